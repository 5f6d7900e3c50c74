#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <optional>
#include <string_view>

#include "report/base/comment_tokens.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/moves_by_tool.h"

namespace provecut {

namespace bit_sizes {

constexpr std::string_view page = R"(## What it finds

A comment says how many sizes of bit the program uses, two or more, and the program calls one tool alone and does not
stop once between its cuts. Marks for holes, less deep than half the stock, have no size.

## Why it matters

Every hole gets the size of the bit that is in the collet. The board is scrap, or small bits go where large ones belong.

## Example

    ( This file uses 6 drill bit sizes. )

with one T2 and no M0 or M6 after it.

## What to do

Export one program for each bit size, or one with a stop or a tool change before each size.

## What `amount` is

How many sizes the comment counts.

## Source

What programs for circuit boards write into comments: common practice, no published source.
)";

// "uses 6 drill bit sizes", "4 tool diameters"
std::optional<int> sizesIn(std::string_view text) {
  constexpr std::array<std::string_view, 6> between{"drill", "bit", "tool", "hole", "different", "drilling"};
  constexpr std::size_t max_between = 3;
  const std::string plain = plainComment(text);
  const std::vector<CommentToken> tokens = commentTokens(plain);
  for (std::size_t i = 0; i < tokens.size(); ++i) {
    const bool count = tokens[i].kind == CommentToken::Kind::number && !tokens[i].unit_mm && !tokens[i].fraction;
    if (!count || tokens[i].value < 2 || tokens[i].value > 99) continue;
    for (std::size_t k = i + 1; k < tokens.size() && k <= i + 1 + max_between; ++k) {
      if (k > i + 1 && (tokens[k].text == "sizes" || tokens[k].text == "diameters"))
        return static_cast<int>(tokens[i].value);
      if (std::find(between.begin(), between.end(), tokens[k].text) == between.end()) break;
    }
  }
  return std::nullopt;
}

// Straight down, and half through the stock at least.
bool drillsHoles(const Facts& facts, const ProgramFacts& p) {
  const double half_z = stockTopZ(facts, *p.setup) - facts.job.stock.size_mm.z / 2;
  return std::any_of(p.program.motions.begin(), p.program.motions.end(), [&](const Motion& m) {
    return feeds(m) && m.start.x == m.end.x && m.start.y == m.end.y && m.end.z < m.start.z && m.end.z < half_z;
  });
}

// One tool from the first cut to the last, and no stop on the way.
bool runsThrough(const Program& program) {
  const std::vector<Motion>& motions = program.motions;
  const auto first = std::find_if(motions.begin(), motions.end(), feeds);
  const auto last = std::find_if(motions.rbegin(), motions.rend(), feeds);
  if (first == motions.end()) return false;
  const auto begin = static_cast<std::uint32_t>(first - motions.begin());
  const auto end = static_cast<std::uint32_t>(motions.rend() - last);
  return std::none_of(program.events.begin(), program.events.end(), [&](const Event& e) {
    const bool halts =
        e.kind == EventKind::stop || e.kind == EventKind::optional_stop || e.kind == EventKind::tool_change;
    return halts && e.before_motion > begin && e.before_motion < end;
  });
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const Program& program = facts.programs[i].program;
    for (const Event& comment : program.events) {
      if (comment.kind != EventKind::comment_tool) continue;
      const std::optional<int> sizes = sizesIn(comment.text);
      if (!sizes || !runsThrough(program) || !drillsHoles(facts, facts.programs[i])) continue;
      Finding f = placeFinding(facts, i, bit_sizes_rule, comment.place);
      f.amount = *sizes;
      f.message = fmt::format(
          "the comment counts {} bit sizes, but the program calls one tool and never stops: all holes get one size",
          *sizes);
      f.help = "Export one program for each bit size, or one with a stop or a tool change before each size.";
      findings.push_back(std::move(f));
      break;
    }
  }
}

}  // namespace bit_sizes

const Rule bit_sizes_rule{"bit-sizes", Level::look,
                          "A comment counts several bit sizes, and the program runs through with one.", bit_sizes::page,
                          bit_sizes::check};

}  // namespace provecut
