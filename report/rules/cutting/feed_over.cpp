#include <fmt/core.h>

#include <algorithm>
#include <limits>
#include <optional>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/feed_slips.h"
#include "report/rules/shared/moves_by_tool.h"
#include "report/rules/shared/tried_loads.h"
#include "sim/clock/path_limits.h"

namespace provecut {

namespace feed_over {

constexpr double rounding = 1e-6;  // feeds are kept in single precision

constexpr std::string_view page = R"(## What it finds

A cutting move whose feed would drive an axis faster than `machine.max_rate` in its direction. Moves through air are
left out: there the machine goes as fast as it can, and nothing comes of it.

## Why it matters

The machine runs slower than programmed or stops with an error. Chips, time and heat are then not as planned. If the
unit is wrong, this is often the first sign.

## Example

With `max_rate = [5000, 5000, 3000]`:

    G1 Z-3 F4000

## What to do

Lower F to the figure in the finding, or correct `max_rate`. Where the job uses a tenth or a hundredth of the feed with
the same bit, the finding names that one.

## What `amount` is

The feed found in mm/min, the largest of the group.

## Source

Geometry: the rate of an axis is the feed times its share of the direction.
)";

// One feed with one zero or more too many, that the job uses rightly with the same bit.
std::optional<ElsewhereFeed> meantFeed(const Facts& facts, std::size_t program, const std::vector<Occurrence>& over) {
  const std::vector<Motion>& motions = facts.programs[program].program.motions;
  const Motion& first = motions[over.front().move];
  for (const Occurrence& o : over) {
    if (motions[o.move].tool != first.tool || motions[o.move].feed_mm_min != first.feed_mm_min) return std::nullopt;
  }
  return slowerElsewhere(facts, first.tool, first.feed_mm_min);
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  if (!machineKnown(facts)) return;
  clock::AxisLimits axes = clock::axisLimits(facts.job.machine);
  axes.acceleration_mm_s2 = {1e9, 1e9, 1e9};  // only the rates are asked
  const double slowest_mm_min = 60 * std::min({axes.rate_mm_s.x, axes.rate_mm_s.y, axes.rate_mm_s.z});
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    std::vector<Occurrence> over;
    double allowed_at_worst = 0, worst = 0, allowed_everywhere = std::numeric_limits<double>::infinity();
    for (std::uint32_t m = 0; m < motions.size(); ++m) {
      const Motion& motion = motions[m];
      if (!feeds(motion) || motion.feed_mm_min <= slowest_mm_min) continue;
      if (motion.flags & motion_start_unknown) continue;
      if (findTool(facts.job, motion.tool) && !cutsMaterial(cutOf(facts, i, m))) continue;
      const double feed = motion.feed_mm_min;
      const clock::MovePath path = clock::movePath(motion, axes, 0);
      const double allowed = path.speed_mm_s * 60;
      if (path.length_mm <= 0 || feed <= allowed * (1 + rounding)) continue;
      over.push_back({m, feed, motion.start});
      allowed_everywhere = std::min(allowed_everywhere, allowed);
      if (feed > worst) {
        worst = feed;
        allowed_at_worst = allowed;
      }
    }
    if (over.empty()) continue;
    Finding f = groupFinding(facts, i, feed_over_rule, over, Worst::largest, Quantity::feed);
    const Compared feed = comparedText(facts.job, Quantity::feed, worst, allowed_at_worst);
    f.amount_text = feed.actual;
    f.message = fmt::format("the feed is {}{} (maximum {} in this direction)", upTo(f), feed.actual, feed.limit);
    f.help =
        fmt::format("Lower the feed to {} or less here.", atMostText(facts.job, Quantity::feed, allowed_everywhere));
    double set = allowed_everywhere;
    if (const auto meant = meantFeed(facts, i, over); meant && meant->feed_mm_min <= allowed_everywhere) {
      set = meant->feed_mm_min;
      const std::string where = meant->program == i ? "this program" : facts.programs[meant->program].entry->file;
      f.help = fmt::format("Set the feed to {} here: {} uses it with the same bit.",
                           quantityText(facts.job, Quantity::feed, set), where);
    }
    const AdvisedChange slower{ChangeKind::feed, set, {}, 0, -1, {}};
    if (provenByLoads(facts, f, {slower}))
      f.ways.push_back({slower});
    else
      f.help = "Lower the feed here to what the axes can do, and the speed with it.";
    findings.push_back(std::move(f));
  }
}

}  // namespace feed_over

const Rule feed_over_rule{"feed-over", Level::look, "A feed is faster than the axes can go.", feed_over::page,
                          feed_over::check};

}  // namespace provecut
