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
constexpr double share_beside_other = 0.2, share_alone = 0.1;
constexpr double chip_beside_other_mm = 0.002, chip_alone_mm = 0.0005;
// No edge cuts less, whatever the material: a sharp carbide edge is rounded by some thousandths of a millimetre, and
// below about a third of that it only presses (textbooks on cutting; from memory).
constexpr double no_edge_cuts_mm = 0.0012;
// A tool that goes down faster than it cuts on the level.
constexpr double share_below_descent = 0.25, times_descent = 2;
constexpr double times_slower = 8, times_slower_at_any_speed = 20;  // than the other feed
constexpr double slow_at_any_speed_mm_min = 5;
constexpr double least_saved_s = 60, least_alone_s = 300, least_alone_share = 0.2;
constexpr double steep_deg = 45;
constexpr double same_feed = 0.01;

// All that a tool does at one feed.
struct AtFeed {
  double length_mm = 0, steep_mm = 0, down_mm = 0, rpm = 0, width_mm = 0;
  double seconds(double feed_mm_min) const { return length_mm * 60 / feed_mm_min; }
  bool plunges() const { return steep_mm > 0.9 * length_mm; }
  bool goesDown() const { return down_mm > 0.5 * length_mm; }
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
    if (m.end.z < m.start.z) at.down_mm += way_mm;
    at.rpm = std::max(at.rpm, m.spindle == Spindle::off ? 0.0 : double{m.rpm});
    const MoveCut cut = cutOf(facts, program, move.index);
    if (cut.section_mm2 > 0)
      at.width_mm = std::max(at.width_mm, diameterAt_mm(bodies.of(move.tool), cut.section_height_mm));
    return {};
  });
  return all;
}

constexpr std::array slip_factors{10.0, 25.4, 100.0, 1000.0};

bool sameFeed(double a_mm_min, double b_mm_min) {
  return std::fabs(a_mm_min / b_mm_min - 1) <= same_feed;
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

  // A feed at which this tool would rub is no better.
  bool rubsAt(double feed) const {
    return range && chip_mm > 0 && !at.plunges() && chip_mm * feed / feed_mm_min < range->rubs_below_mm;
  }

  // The tool's other feed at which it goes the longest way, of those `times` as fast at least.
  std::optional<double> otherFeed(double times) const {
    std::optional<double> found;
    double longest_mm = 0;
    for (const auto& [key, other] : all) {
      if (key.first != tool.number || key.second < times * feed_mm_min || other.length_mm <= longest_mm) continue;
      if ((other.plunges() && !at.plunges()) || rubsAt(key.second)) continue;
      longest_mm = other.length_mm;
      found = key.second;
    }
    return found;
  }

  bool chipBelow(double share, double without_chart_mm) const {
    if (at.plunges()) return chip_mm < chip_alone_mm;
    return chip_mm < (range ? share * range->rubs_below_mm : without_chart_mm);
  }

  bool goesDownFaster() const {
    return std::any_of(all.begin(), all.end(), [&](const auto& other) {
      return other.first.first == tool.number && other.second.goesDown() &&
             other.first.second >= times_descent * feed_mm_min;
    });
  }

  // Too slow whatever the program's other feeds.
  bool slowAlone() const {
    if (chip_mm <= 0) return feed_mm_min <= slow_at_any_speed_mm_min;
    if (at.plunges()) return chip_mm < chip_alone_mm;
    if (chip_mm < no_edge_cuts_mm || chipBelow(share_alone, chip_alone_mm)) return true;
    return range && !at.goesDown() && chipBelow(share_below_descent, 0) && goesDownFaster();
  }

  std::optional<double> cutElsewhere() const {
    for (const bool own_tool : {true, false}) {
      for (const double factor : slip_factors) {
        for (const auto& [key, other] : all) {
          if ((key.first == tool.number) != own_tool || rubsAt(key.second)) continue;
          if (sameFeed(key.second, factor * feed_mm_min)) return key.second;
        }
      }
    }
    return std::nullopt;
  }

  bool reachable(double feed) const {
    const Vec3 rate = facts.job.machine.max_rate_mm_min;
    return !machineKnown(facts) || feed <= (at.plunges() ? rate.z : std::min(rate.x, rate.y)) * (1 + same_feed);
  }
};

// Another of the tool's feeds rubs as well: then three lost digits do not explain this one.
bool othersRub(const Suspect& s) {
  return std::any_of(s.all.begin(), s.all.end(), [&](const auto& other) {
    return other.first.first == s.tool.number && double{other.first.second} > s.feed_mm_min &&
           !other.second.plunges() && s.rubsAt(other.first.second);
  });
}

// The slowest feed at which the bit cuts, in tens.
std::optional<double> leastFeed(const Suspect& s) {
  if (!s.range || s.chip_mm <= 0 || s.at.plunges()) return std::nullopt;
  return std::ceil(s.feed_mm_min * s.range->rubs_below_mm / s.chip_mm / 10) * 10;
}

// The same digits with the point moved, as far as they fit the tool and the material; charts for one bit differ by
// half.
std::optional<double> withinChart(const Suspect& s) {
  constexpr double charts_differ = 1.5;
  if (!s.range || s.chip_mm <= 0) return std::nullopt;
  for (const double beyond : {1.0, charts_differ}) {
    for (const double factor : {10.0, 100.0, 1000.0}) {
      if (factor > 100 && othersRub(s)) continue;
      const double chip = s.chip_mm * factor;
      if (chip >= std::max(s.range->rubs_below_mm, no_edge_cuts_mm) && chip <= s.range->max_mm * beyond)
        return s.feed_mm_min * factor;
    }
  }
  return std::nullopt;
}

std::optional<SlippedFeed> judge(const Suspect& s, double program_s) {
  SlippedFeed slip;
  slip.feed_mm_min = static_cast<float>(s.feed_mm_min);
  slip.chip_mm = s.chip_mm;
  slip.seconds = s.at.seconds(s.feed_mm_min);
  if (slip.seconds < least_saved_s) return std::nullopt;
  const bool spins = s.chip_mm > 0;
  const std::optional<double> other = s.otherFeed(spins ? times_slower : times_slower_at_any_speed);
  const bool beside = other && (!spins || s.chipBelow(share_beside_other, chip_beside_other_mm)) &&
                      slip.seconds - s.at.seconds(*other) >= least_saved_s;
  const bool long_alone = slip.seconds >= least_alone_s || slip.seconds >= least_alone_share * program_s;
  if (!beside && !(s.slowAlone() && long_alone)) return std::nullopt;
  slip.meant_mm_min = s.cutElsewhere();
  if (!slip.meant_mm_min && beside) slip.meant_mm_min = other;
  slip.used_elsewhere = slip.meant_mm_min.has_value();
  return slip;
}

// What was probably meant, by one factor for the whole tool: whoever loses a zero loses it everywhere. The fastest of
// its feeds tells.
void nameFeeds(const std::vector<Suspect>& suspects, FeedSlip& slip) {
  const auto suspectOf = [&](const SlippedFeed& f) -> const Suspect& {
    return *std::find_if(suspects.begin(), suspects.end(),
                         [&](const Suspect& s) { return static_cast<float>(s.feed_mm_min) == f.feed_mm_min; });
  };
  // A feed that is a slip itself was not meant either.
  for (SlippedFeed& f : slip.feeds) {
    const bool slipped = f.meant_mm_min && std::any_of(slip.feeds.begin(), slip.feeds.end(), [&](const SlippedFeed& s) {
                           return sameFeed(*f.meant_mm_min, s.feed_mm_min);
                         });
    if (!slipped) continue;
    f.meant_mm_min.reset();
    f.used_elsewhere = false;
  }
  SlippedFeed* main = &slip.feeds.back();
  for (SlippedFeed& f : slip.feeds) {
    if (!suspectOf(f).at.plunges()) main = &f;
  }
  if (!main->meant_mm_min) main->meant_mm_min = withinChart(suspectOf(*main));
  std::optional<double> factor;
  if (main->meant_mm_min) {
    for (const double k : slip_factors) {
      if (sameFeed(*main->meant_mm_min, k * main->feed_mm_min)) factor = k;
    }
  }
  const bool all_level_ones = std::all_of(suspects.begin(), suspects.end(), [&](const Suspect& s) {
    return s.at.plunges() || std::any_of(slip.feeds.begin(), slip.feeds.end(), [&](const SlippedFeed& f) {
             return f.feed_mm_min == static_cast<float>(s.feed_mm_min);
           });
  });
  if (factor && all_level_ones) {
    const double most = *main->meant_mm_min;
    for (const Suspect& s : suspects) {
      const auto feed = static_cast<float>(s.feed_mm_min);
      const bool known = std::any_of(slip.feeds.begin(), slip.feeds.end(),
                                     [&](const SlippedFeed& f) { return f.feed_mm_min == feed; });
      if (known || s.feed_mm_min * *factor > most) continue;
      slip.feeds.push_back({feed, s.chip_mm, s.at.seconds(s.feed_mm_min), {}, false});
    }
    std::sort(slip.feeds.begin(), slip.feeds.end(),
              [](const SlippedFeed& a, const SlippedFeed& b) { return a.feed_mm_min < b.feed_mm_min; });
  }
  for (SlippedFeed& f : slip.feeds) {
    const Suspect& s = suspectOf(f);
    if (!f.meant_mm_min && factor) f.meant_mm_min = *factor * s.feed_mm_min;
    if (!f.meant_mm_min) f.meant_mm_min = withinChart(s);
    if (!f.meant_mm_min && othersRub(s)) {
      f.meant_mm_min = leastFeed(s);
      f.least = f.meant_mm_min.has_value();
    }
    if (f.meant_mm_min && !s.reachable(*f.meant_mm_min)) f.meant_mm_min.reset();
  }
}

void gatherMoves(const Facts& facts, std::size_t program, std::vector<FeedSlip>& slips) {
  movesByTool(facts, program, [&](const ToolMove& move) -> std::optional<double> {
    if (!feeds(move.motion)) return {};
    for (FeedSlip& slip : slips) {
      if (isSlip({slip}, move.motion)) slip.moves.push_back({move.index, move.motion.feed_mm_min, move.motion.start});
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
  std::map<int, std::vector<Suspect>> by_tool;
  for (const auto& [key, at] : all) {
    const double feed = key.second;
    const Tool& tool = *findTool(facts.job, key.first);
    const double width = at.width_mm > 0 ? at.width_mm : tool.diameter_mm;
    const double chip = at.rpm > 0 ? chipLoad_mm(feed, at.rpm, tool.flutes) : 0;
    by_tool[key.first].push_back({facts, all, tool, feed, at, chipRange(tool, facts.job.stock, width), chip});
  }
  std::vector<FeedSlip> slips;
  for (const auto& [tool, suspects] : by_tool) {
    FeedSlip slip;
    slip.tool = tool;
    for (const Suspect& suspect : suspects) {
      if (const std::optional<SlippedFeed> feed = judge(suspect, program_s)) slip.feeds.push_back(*feed);
    }
    if (slip.feeds.empty()) continue;
    nameFeeds(suspects, slip);
    slips.push_back(std::move(slip));
  }
  if (!slips.empty()) gatherMoves(facts, program, slips);
  return slips;
}

bool isSlip(const std::vector<FeedSlip>& slips, const Motion& motion) {
  return std::any_of(slips.begin(), slips.end(), [&](const FeedSlip& slip) {
    return slip.tool == motion.tool && std::any_of(slip.feeds.begin(), slip.feeds.end(), [&](const SlippedFeed& f) {
             return f.feed_mm_min == motion.feed_mm_min;
           });
  });
}

std::optional<ElsewhereFeed> slowerElsewhere(const Facts& facts, int tool, double feed_mm_min) {
  for (const double factor : slip_factors) {
    for (std::size_t i = 0; i < facts.programs.size(); ++i) {
      for (const Motion& m : facts.programs[i].program.motions) {
        if (m.tool == tool && feeds(m) && m.feed_mm_min > 0 && sameFeed(factor * double{m.feed_mm_min}, feed_mm_min))
          return ElsewhereFeed{m.feed_mm_min, i};
      }
    }
  }
  return std::nullopt;
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
