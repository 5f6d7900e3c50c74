#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "parser/block/block_grammar.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace feed_before_unit {

constexpr std::string_view page = R"(## What it finds

An F word on the same line as the G20 or G21 that changes the unit.

## Why it matters

In the standard's order of execution F comes before the change of unit, but machines differ. Read in the old unit, the
feed is 25.4 times too fast or too slow.

## Example

    G21
    G20 G1 X3 F10

F10 may be 10 mm/min or 10 in/min.

## What to do

Put G20 or G21 on its own line, before the feed.

## What `amount` is

The number of the F word.

## Source

NISTIR 6556 3.8, table 8.
)";

// Lines on which "G20" or "G21", with zeros or spaces after the letter, may stand: few need a closer look.
std::vector<std::uint32_t> linesWithUnit(const ProgramFacts& p) {
  const std::string_view text = p.text;
  std::vector<std::uint32_t> lines;
  for (const char letter : {'G', 'g'}) {
    for (std::size_t at = text.find(letter); at != std::string_view::npos; at = text.find(letter, at + 1)) {
      std::size_t digit = at + 1;
      while (digit < text.size() && (text[digit] == ' ' || text[digit] == '\t' || text[digit] == '0')) ++digit;
      if (digit == text.size() || text[digit] != '2') continue;
      const auto line = std::upper_bound(p.line_starts.begin(), p.line_starts.end(), at);
      lines.push_back(static_cast<std::uint32_t>(line - p.line_starts.begin()));
    }
  }
  std::sort(lines.begin(), lines.end());
  lines.erase(std::unique(lines.begin(), lines.end()), lines.end());
  return lines;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  Block block;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    bool inch = false;
    for (const std::uint32_t number : linesWithUnit(p)) {
      const std::string_view line = p.line(number);
      readBlock(line, block);
      const Word* unit = nullptr;
      const Word* feed = nullptr;
      for (const Word& w : block.words) {
        if (!w.expression.empty()) continue;
        if (w.letter == 'F') feed = &w;
        if (w.letter == 'G' && (std::fabs(w.value - 20) < 1e-6 || std::fabs(w.value - 21) < 1e-6)) unit = &w;
      }
      if (!unit) continue;
      const bool now_inch = std::fabs(unit->value - 20) < 1e-6;
      const bool changes = now_inch != inch;
      inch = now_inch;
      if (!changes || !feed) continue;
      Finding f = placeFinding(facts, i, feed_before_unit_rule, {number, feed->column, feed->end_column});
      f.moves = 1;
      f.amount = feed->value;
      f.unit = now_inch ? "in/min" : "mm/min";
      f.message =
          fmt::format("F{} is on the line that changes the unit; a machine that reads F first runs 25.4 times too {}",
                      line.substr(feed->column, feed->end_column - feed->column - 1), now_inch ? "slow" : "fast");
      f.help = fmt::format("Put {} on its own line before this one.", now_inch ? "G20" : "G21");
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace feed_before_unit

const Rule feed_before_unit_rule{"feed-before-unit", Level::look, "A feed on the line that changes the unit.",
                                 feed_before_unit::page, feed_before_unit::check};

}  // namespace provecut
