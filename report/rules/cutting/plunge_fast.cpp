#include <fmt/core.h>

#include <cmath>
#include <numbers>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/moves_by_tool.h"

namespace provecut {

namespace plunge_fast {

constexpr std::string_view page = R"(## What it finds

A feed move goes straight down (84° or steeper) into material, faster than the tool's `plunge_feed`.

## Why it matters

On the way down a bit cuts with its weakest edges and clears no chips. At the cutting feed it burns, breaks, or is
pulled out of the collet. Often the F word of the cut is one line too early.

## Example

With `plunge_feed = 800`:

    G1 Z-3 F1800
    G1 X80

## What to do

Give the plunge its own F word, and the cut after it another.

## What `amount` is

The downward rate in mm/min, the largest of the group.

## Source

You set `plunge_feed`. A quarter to half of the cutting feed in wood is common practice; no published source.
)";

// The steep walls of a relief are followed downwards at full feed, and rightly; a plunge goes nearly straight down. Our
// own choice, no source.
constexpr double straight_down_deg = 84;
constexpr double rounding = 1e-6;  // feeds are kept in single precision

std::optional<double> tooFastDown(const Facts& facts, const ToolMove& move) {
  const double descent = descentDeg(move.motion);
  if (!feeds(move.motion) || descent < straight_down_deg) return std::nullopt;
  if (!cutsMaterial(cutOf(facts, move.program, move.index))) return std::nullopt;
  const double down = double{move.motion.feed_mm_min} * std::sin(descent * std::numbers::pi / 180);
  if (down <= *move.tool.plunge_feed_mm_min * (1 + rounding)) return std::nullopt;
  return down;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const Judge judge = [&](const ToolMove& move) { return tooFastDown(facts, move); };
  const auto limited = [](const Tool& t) { return t.plunge_feed_mm_min.has_value(); };
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    for (const auto& [number, fast] : movesByTool(facts, i, judge, limited)) {
      const double max_feed = *findTool(facts.job, number)->plunge_feed_mm_min;
      Finding f = toolFinding(facts, i, plunge_fast_rule, number, fast, Worst::largest, Quantity::feed);
      const Compared feed = comparedText(facts.job, Quantity::feed, *f.amount, max_feed);
      f.amount_text = feed.actual;
      f.message = fmt::format("{} plunges at {}{} (maximum {})", f.subject, upTo(f), feed.actual, feed.limit);
      f.help = fmt::format("Plunge at {} or less, and set the feed again for the cut after it.",
                           atMostText(facts.job, Quantity::feed, max_feed));
      f.ways.push_back({{ChangeKind::plunge_feed, max_feed, {}, number, -1, {}}});
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace plunge_fast

const Rule plunge_fast_rule{"plunge-fast", Level::look, "A plunge is faster than the tool's plunge_feed.",
                            plunge_fast::page, plunge_fast::check};

}  // namespace provecut
