#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/chip_advice.h"
#include "report/rules/shared/feed_slips.h"
#include "report/rules/shared/moves_by_tool.h"
#include "report/rules/shared/tried_loads.h"
#include "sim/clearance/tolerance.h"
#include "sim/clock/path_limits.h"

namespace provecut {

namespace cut_at_plunge_feed {

constexpr std::string_view page = R"(## What it finds

At least 50 mm of level cuts run no faster than the tool's `plunge_feed`, and the same program cuts at least 1.2 times
faster elsewhere with the same tool.

## Why it matters

The F word after a plunge is missing. The pass crawls, and the bit rubs and burns.

## Example

With `plunge_feed = 400`:

    G1 Z-3 F400
    G1 X180
    G1 Y80 F1200

## What to do

Put the cutting feed on the first line after the plunge.

## What `amount` is

The feed found in mm/min, the smallest of the group.

## Source

The limits are our own choice.
)";

constexpr double rounding = 1e-6;
constexpr double faster = 1.2;        // a cutting feed that is one of its own
constexpr double min_length_mm = 50;  // our own choices, no source

// What a tool does in level cuts of one program.
struct LevelCuts {
  double slow_mm = 0, max_feed_mm_min = 0;
};

void check(const Facts& facts, std::vector<Finding>& findings) {
  const auto limited = [](const Tool& t) { return t.plunge_feed_mm_min.has_value(); };
  const clock::AxisLimits axes = clock::axisLimits(facts.job.machine);
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    std::map<int, LevelCuts> level;
    const std::vector<FeedSlip> slips = feedSlips(facts, i);
    const Judge judge = [&](const ToolMove& move) -> std::optional<double> {
      const Motion& m = move.motion;
      const double feed = m.feed_mm_min;
      if (!feeds(m) || feed <= 0 || std::fabs(m.end.z - m.start.z) > clearance::contact_tolerance_mm) return {};
      if (!cutsMaterial(cutOf(facts, i, move.index)) || isSlip(slips, m)) return {};
      LevelCuts& cuts = level[move.tool.number];
      cuts.max_feed_mm_min = std::max(cuts.max_feed_mm_min, feed);
      if (feed > *move.tool.plunge_feed_mm_min * (1 + rounding)) return {};
      cuts.slow_mm += clock::movePath(m, axes, 0).length_mm;
      return feed;
    };
    for (const auto& [number, slow] : movesByTool(facts, i, judge, limited)) {
      const double plunge = *findTool(facts.job, number)->plunge_feed_mm_min;
      const LevelCuts& cuts = level[number];
      if (cuts.slow_mm < min_length_mm || cuts.max_feed_mm_min < faster * plunge) continue;
      Finding f = toolFinding(facts, i, cut_at_plunge_feed_rule, number, slow, Worst::smallest, Quantity::feed);
      const std::string fast = quantityText(facts.job, Quantity::feed, cuts.max_feed_mm_min);
      f.amount_text = quantityText(facts.job, Quantity::feed, plunge);
      f.message = fmt::format("{} crawls for {} at its plunge feed of {} or less; elsewhere it cuts at {}", f.subject,
                              quantityText(facts.job, Quantity::length, cuts.slow_mm), f.amount_text, fast);
      const AdvisedChange faster_on{
          ChangeKind::feed, std::min(cuts.max_feed_mm_min, maxLevelFeed_mm_min(facts)), {}, number, -1, {}};
      f.help = "Set the cutting feed on the first line after the plunge.";
      if (provenByLoads(facts, f, {faster_on})) {
        f.ways.push_back({faster_on});
        f.help = fmt::format("Set the cutting feed, such as {}, on the first line after the plunge.",
                             quantityText(facts.job, Quantity::feed, faster_on.value));
      }
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace cut_at_plunge_feed

const Rule cut_at_plunge_feed_rule{"cut-at-plunge-feed", Level::note, "Long cuts run at the plunge feed.",
                                   cut_at_plunge_feed::page, cut_at_plunge_feed::check};

}  // namespace provecut
