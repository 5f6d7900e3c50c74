#include "report/rules/shared/feed_slips.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "report/facts/measures.h"
#include "report/rules/shared/chip_load_table.h"
#include "sim/clock/path_limits.h"
#include "sim/tool/cutting_load.h"

namespace provecut {

namespace {

// All of this is our own estimate. A feed is suspect below these shares of the chip load where the bit begins to rub;
// the higher one needs another feed of the same tool to compare with. Without a chart the chip loads serve.
constexpr double share_beside_other = 0.2, share_alone = 0.04;
constexpr double chip_beside_other_mm = 0.002, chip_alone_mm = 0.0005;
constexpr double times_slower = 8, times_slower_at_any_speed = 20;  // than the other feed
constexpr double slow_at_any_speed_mm_min = 5;
constexpr double least_saved_s = 60, least_alone_s = 300, least_alone_share = 0.2;
constexpr double steep_deg = 45;
constexpr double same_feed = 0.01;

// All that a tool does at one feed.
struct AtFeed {
  double length_mm = 0, steep_mm = 0, rpm = 0, width_mm = 0;
  double seconds(double feed_mm_min) const { return length_mm * 60 / feed_mm_min; }
  bool plunges() const { return steep_mm > 0.9 * length_mm; }
};
using Feeds = std::map<std::pair<int, float>, AtFeed>;

Feeds feedsOf(const Facts& facts, std::size_t program, ToolBodies& bodies) {
  const clock::AxisLimits axes = clock::axisLimits(facts.job.machine);
  Feeds all;
  movesByTool(facts, program, [&](const ToolMove& move) -> std::optional<double> {
    const Motion& m = move.motion;
    if (!feeds(m) || m.feed_mm_min <= 0 || (m.flags & motion_approach)) return {};
    AtFeed& at = all[{m.tool, m.feed_mm_min}];
    const double way_mm = isArc(m) ? clock::movePath(m, axes, 0).length_mm : length(m.end - m.start);
    at.length_mm += way_mm;
    if (descentDeg(m) > steep_deg) at.steep_mm += way_mm;
    at.rpm = std::max(at.rpm, m.spindle == Spindle::off ? 0.0 : double{m.rpm});
    const MoveCut cut = cutOf(facts, program, move.index);
    if (cut.section_mm2 > 0)
      at.width_mm = std::max(at.width_mm, diameterAt_mm(bodies.of(move.tool), cut.section_height_mm));
    return {};
  });
  return all;
}

// A feed under suspicion, and all others of the program.
struct Suspect {
  const Facts& facts;
  const Feeds& all;
  const Tool& tool;
  double feed_mm_min = 0;
  const AtFeed& at;
  std::optional<ChipRange> range;
  double chip_mm = 0;

  // The tool's other feed at which it goes the longest way, of those `times` as fast at least.
  std::optional<double> otherFeed(double times) const {
    std::optional<double> found;
    double longest_mm = 0;
    for (const auto& [key, other] : all) {
      if (key.first != tool.number || key.second < times * feed_mm_min || other.length_mm <= longest_mm) continue;
      if (other.plunges() && !at.plunges()) continue;
      longest_mm = other.length_mm;
      found = key.second;
    }
    return found;
  }

  bool chipBelow(double share, double without_chart_mm) const {
    if (at.plunges()) return chip_mm < chip_alone_mm;
    return chip_mm < (range ? share * range->rubs_below_mm : without_chart_mm);
  }

  std::optional<double> cutElsewhere() const {
    for (const bool own_tool : {true, false}) {
      for (const double factor : {10.0, 25.4, 100.0, 1000.0}) {
        for (const auto& [key, other] : all) {
          if ((key.first == tool.number) != own_tool) continue;
          if (std::fabs(key.second / (factor * feed_mm_min) - 1) <= same_feed) return key.second;
        }
      }
    }
    return std::nullopt;
  }

  std::optional<double> withinChart() const {
    if (!range || chip_mm <= 0) return std::nullopt;
    for (const double factor : {10.0, 100.0, 1000.0}) {
      const double chip = chip_mm * factor;
      if (chip >= range->rubs_below_mm && chip <= range->max_mm) return feed_mm_min * factor;
    }
    return std::nullopt;
  }

  bool reachable(double feed) const {
    const Vec3 rate = facts.job.machine.max_rate_mm_min;
    return !machineKnown(facts) || feed <= (at.plunges() ? rate.z : std::min(rate.x, rate.y)) * (1 + same_feed);
  }
};

std::optional<FeedSlip> judge(const Suspect& s, double program_s) {
  FeedSlip slip;
  slip.tool = s.tool.number;
  slip.feed_mm_min = static_cast<float>(s.feed_mm_min);
  slip.chip_mm = s.chip_mm;
  slip.seconds = s.at.seconds(s.feed_mm_min);
  const bool spins = s.chip_mm > 0;
  const std::optional<double> other = s.otherFeed(spins ? times_slower : times_slower_at_any_speed);
  const bool beside = other && (!spins || s.chipBelow(share_beside_other, chip_beside_other_mm)) &&
                      slip.seconds - s.at.seconds(*other) >= least_saved_s;
  const bool slow = spins ? s.chipBelow(share_alone, chip_alone_mm) : s.feed_mm_min <= slow_at_any_speed_mm_min;
  const bool long_alone =
      slip.seconds >= least_alone_s || (slip.seconds >= least_saved_s && slip.seconds >= least_alone_share * program_s);
  if (!beside && !(slow && long_alone)) return std::nullopt;
  slip.meant_mm_min = s.cutElsewhere();
  if (!slip.meant_mm_min && beside) slip.meant_mm_min = other;
  slip.used_elsewhere = slip.meant_mm_min.has_value();
  if (!slip.meant_mm_min) slip.meant_mm_min = s.withinChart();
  if (slip.meant_mm_min && !s.reachable(*slip.meant_mm_min)) slip.meant_mm_min.reset();
  return slip;
}

void gatherMoves(const Facts& facts, std::size_t program, std::vector<FeedSlip>& slips) {
  movesByTool(facts, program, [&](const ToolMove& move) -> std::optional<double> {
    for (FeedSlip& slip : slips) {
      if (slip.tool != move.motion.tool || slip.feed_mm_min != move.motion.feed_mm_min || !feeds(move.motion)) continue;
      slip.moves.push_back({move.index, slip.feed_mm_min, move.motion.start});
    }
    return {};
  });
}

bool hasTip(const Tool& tool) {
  return tool.shape == ToolShape::vee || tool.shape == ToolShape::ball || tool.shape == ToolShape::taper_ball;
}

double tipWidth_mm(const Tool& tool) {
  if (tool.shape == ToolShape::vee) return tool.tip_diameter_mm;
  return tool.shape == ToolShape::ball ? tool.diameter_mm : 2 * tool.tip_radius_mm;
}

}  // namespace

std::vector<FeedSlip> feedSlips(const Facts& facts, std::size_t program) {
  ToolBodies bodies(facts.job);
  const Feeds all = feedsOf(facts, program, bodies);
  double program_s = 0;
  for (const auto& [key, at] : all) program_s += at.seconds(double{key.second});
  std::vector<FeedSlip> slips;
  for (const auto& [key, at] : all) {
    const double feed = key.second;
    if (at.seconds(feed) < least_saved_s) continue;
    const Tool& tool = *findTool(facts.job, key.first);
    const double width = at.width_mm > 0 ? at.width_mm : tool.diameter_mm;
    const double chip = at.rpm > 0 ? chipLoad_mm(feed, at.rpm, tool.flutes) : 0;
    const Suspect suspect{facts, all, tool, feed, at, chipRange(tool, facts.job.stock, width), chip};
    if (std::optional<FeedSlip> slip = judge(suspect, program_s)) slips.push_back(std::move(*slip));
  }
  if (!slips.empty()) gatherMoves(facts, program, slips);
  return slips;
}

bool isSlip(const std::vector<FeedSlip>& slips, const Motion& motion) {
  return std::any_of(slips.begin(), slips.end(), [&](const FeedSlip& slip) {
    return slip.tool == motion.tool && slip.feed_mm_min == motion.feed_mm_min;
  });
}

std::optional<double> maxTipChip_mm(const Tool& tool, double width_mm) {
  constexpr double tiny_mm = 1;
  if (!hasTip(tool) || tipWidth_mm(tool) <= 0 || tool.chip_load_mm) return std::nullopt;
  const double width = std::max(width_mm, tipWidth_mm(tool));
  return width < tiny_mm ? std::optional(max_tip_share * width) : std::nullopt;
}

std::optional<TipChip> breaksTip(const Facts& facts, ToolBodies& bodies, const ToolMove& move) {
  if (facts.job.stock.material_given && facts.job.stock.material == Material::foam) return std::nullopt;
  if (!hasTip(move.tool) || !feeds(move.motion)) return std::nullopt;
  if (machineKnown(facts) && move.motion.rpm < facts.job.machine.spindle_rpm_min) return std::nullopt;
  const MoveCut cut = cutOf(facts, move.program, move.index);
  const MoveLoad load = loadOf(facts, move.program, move.index);
  if (cut.section_mm2 <= 0 || load.top_speed_mm_min <= 0) return std::nullopt;
  const double width = diameterAt_mm(bodies.of(move.tool), cut.section_height_mm);
  const std::optional<double> max = maxTipChip_mm(move.tool, width);
  const double chip = chipLoad_mm(load.top_speed_mm_min, move.motion.rpm, move.tool.flutes);
  return max && chip > *max * (1 + 1e-4) ? std::optional(TipChip{chip, *max}) : std::nullopt;
}

}  // namespace provecut
