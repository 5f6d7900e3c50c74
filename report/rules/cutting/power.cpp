#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "report/facts/measures.h"
#include "report/facts/tool_load.h"
#include "report/rules/list.h"
#include "report/rules/shared/chip_advice.h"
#include "report/rules/shared/moves_by_tool.h"
#include "report/rules/shared/tried_loads.h"
#include "sim/tool/cutting_material.h"

namespace provecut {

namespace power {

constexpr std::string_view page = R"(## What it finds

A cutting move needs more power than `[machine] spindle_power_w`. This is for a new, sharp bit, at the highest speed
that the machine reaches and the largest cross-section along the move.

## Why it matters

The spindle slows down, the chips grow thicker, the bit breaks or the motor trips in mid-cut. A dull bit needs up to
twice as much.

## Example

With `spindle_power_w = 400`, a 1/2 in bit slots hardwood half an inch deep:

    S18000 M3
    G1 X200 F3300

It needs about 660 W at the motor.

## What to do

Take less depth or width, or feed slower. Check that `spindle_power_w` is your spindle's real power. Without a
`material` in `[stock]` nothing is checked.

## What `amount` is

The power at the motor in W, the largest of the group.

## Source

P = u Q with u = K_tc + K_te / mean chip thickness: the linear-edge model, where thin chips cost more. For aluminium:
Chinese Journal of Mechanical Engineering 2021, table 5. For wood and plastics: our own estimates, accurate to about
±50 %. We found no figures for HDPE and solid surface (taken as acrylic), other boards (taken as MDF) and brass (taken
as aluminium plus 20 %). Four fifths of the motor's power reach the cutter (from memory, 0.7 to 0.85). Plunges:
Machinery's Handbook, 31st ed., energy at ordinary chips (from memory), our own estimates for wood.
)";

constexpr double rounding = 1e-4;
constexpr double least_feed_mm_min = 10, least_depth_mm = 0.1;  // less is no advice

// Power grows with the depth of a level cut, and with the feed of a plunge. Of a level cut only the part for the chips'
// area grows with the feed, not that for the edges' length.
double levelFeed_mm_min(const Facts& facts, const MoveLoad& load, double share) {
  const double area_w = cuttingForce(facts.job.stock.material).per_area_n_mm2 * load.removal_mm3_min / 60000;
  const double less_w = (1 - share) * load.power_w;
  return area_w > less_w ? load.top_speed_mm_min * (1 - less_w / area_w) : 0;
}

// Where a cut crosses others, one of its passes may meet more than its share of the whole: as wide as a slot at most.
double asWideAsSlot(const MoveCut& cut, const Tool* bit) {
  constexpr float uneven = 1.5F;
  if (!bit || cut.radial_depth_mm <= 0 || cut.max_radial_depth_mm < uneven * cut.radial_depth_mm) return 1;
  return std::max(1.0, bit->diameter_mm / double{cut.max_radial_depth_mm});
}

// Less depth or a lower feed for level cuts, and a lower feed for plunges: each so that all of the moves are right.
void advise(const Facts& facts, std::size_t program, int tool, const std::vector<Occurrence>& heavy, double has_w,
            Finding& f) {
  constexpr double infinity = std::numeric_limits<double>::infinity();
  double depth_mm = infinity, feed_mm_min = infinity, plunge_mm_min = infinity;
  AdvisedChange feed{ChangeKind::feed, 0, {}, tool, -1, {}}, plunge{ChangeKind::plunge_feed, 0, {}, tool, -1, {}};
  const Tool* bit = findTool(facts.job, tool);
  // Below a pass before it a round or pointed tip cuts with its flanks, too.
  const bool square = !bit || bit->shape == ToolShape::flat || bit->shape == ToolShape::bull;
  const double flank_mm = square ? 0 : bit->diameter_mm / 2;
  for (const Occurrence& o : heavy) {
    const MoveLoad load = loadOf(facts, program, o.move);
    const double share = has_w / o.amount, height_mm = cutOf(facts, program, o.move).section_height_mm;
    const bool level = height_mm > 0;
    (level ? feed : plunge).lines.push_back(facts.programs[program].program.motions[o.move].line);
    if (level) {
      depth_mm = std::min(depth_mm, height_mm * share / asWideAsSlot(cutOf(facts, program, o.move), bit) - flank_mm);
      feed_mm_min = std::min(feed_mm_min, levelFeed_mm_min(facts, load, share));
    } else {
      plunge_mm_min = std::min(plunge_mm_min, double{load.top_speed_mm_min} * share);
    }
  }
  const auto feedText = [&](double mm_min) { return atMostText(facts.job, Quantity::feed, mm_min); };
  feed.value = settableDown(facts.job, feed_mm_min);
  plunge.value = settableDown(facts.job, plunge_mm_min);
  const std::vector<AdvisedChange> down =
      plunge.lines.empty() ? std::vector<AdvisedChange>{} : std::vector<AdvisedChange>{plunge};
  const auto with = [&](const AdvisedChange& c) {
    std::vector<AdvisedChange> way = down;
    way.push_back(c);
    return way;
  };
  std::string plunges = down.empty() ? "" : fmt::format("plunge at {} or less", feedText(plunge.value));
  if (feed.lines.empty()) {
    if (plunge.value < least_feed_mm_min || !provenByLoads(facts, f, down)) {
      f.help = "Not possible with this bit on this spindle: use a smaller one.";
      return;
    }
    f.ways.push_back(down);
    f.help = sentence(plunges);
    return;
  }
  std::vector<std::string> ways;
  depth_mm = std::floor(depth_mm * pass_margin / least_depth_mm + 1e-6) * least_depth_mm;
  if (depth_mm >= least_depth_mm) {
    f.ways.push_back(with({ChangeKind::stepdown, depth_mm, {}, tool, -1, {}}));
    ways.push_back(fmt::format("take no more than {} per pass", atMostText(facts.job, Quantity::length, depth_mm)));
  }
  if (feed.value >= least_feed_mm_min && provenByLoads(facts, f, with(feed))) {
    f.ways.push_back(with(feed));
    ways.push_back(fmt::format("feed at {} or less", feedText(feed.value)));
  }
  if (ways.empty()) {
    f.help = "Not possible with this bit on this spindle: use a smaller one.";
    return;
  }
  f.help = sentence(ways.front() + (ways.size() > 1 ? ", or " + ways.back() : ""));
  if (!down.empty()) f.help += " " + sentence(plunges);
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const double has_w = facts.job.machine.spindle_power_w;
  if (!machineKnown(facts) || has_w <= 0) return;
  const Judge judge = [&](const ToolMove& move) -> std::optional<double> {
    const double motor_w = loadOf(facts, move.program, move.index).power_w / motor_efficiency;
    if (motor_w <= has_w * (1 + rounding)) return {};
    return motor_w;
  };
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    for (const auto& [number, heavy] : movesByTool(facts, i, judge)) {
      Finding f = toolFinding(facts, i, power_rule, number, heavy, Worst::largest, Quantity::power_w);
      const Compared power = comparedText(facts.job, Quantity::power_w, *f.amount, has_w);
      f.amount_text = power.actual;
      f.message = fmt::format("{} needs {}{} at the motor (maximum {})", f.subject, upTo(f), power.actual, power.limit);
      advise(facts, i, number, heavy, has_w, f);
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace power

const Rule power_rule{"power", Level::look, "A cut needs more power than the spindle has.", power::page, power::check};

}  // namespace provecut
