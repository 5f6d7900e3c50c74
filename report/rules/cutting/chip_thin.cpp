#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/chip_advice.h"
#include "report/rules/shared/chip_load_table.h"
#include "report/rules/shared/feed_slips.h"
#include "report/rules/shared/moves_by_tool.h"
#include "sim/clock/path_limits.h"
#include "sim/tool/cutting_load.h"

namespace provecut {

namespace chip_thin {

constexpr std::string_view page = R"(## What it finds

A tool rubs for more than half of its cutting time in a program: its chip load is well below half of what light
machines usually run, and below 0.025 mm for an upright edge in wood or plastic. Well below: by a third at least, as
such charts are right to about half. The tool's own `chip_load` is used exactly as given. What counts is the speed that
the machine really reaches, not the F word; in a bore that the cutter widens from its middle, the speed at the wall. A
narrow cut makes even thinner chips. That is not counted: finishing passes are meant to be narrow. A tool that gets
feed-slip is left out.

## Why it matters

An edge that rubs makes dust and heat. It burns wood, melts plastic back together behind the bit, and goes dull by
evening. A machine with low acceleration never reaches the feed in short moves and tight corners.

## Example

A two-flute bit at

    S24000 M3
    G1 X80 F600

has a chip load of 0.0125 mm.

## What to do

Lower the spindle speed, raise the feed, or use a bit with fewer flutes. If the machine does not reach the feed, only
the spindle speed helps. Many shops run below the charts and do well, so this is never more than a note.

## What `amount` is

The chip load in mm, the mean over the time of the moves found.

## Source

Geometry: the wall of a bore of radius R goes by R / (R - r) times as fast as the centre of a cutter of radius r.
0.025 mm: several sellers' pages. What desktop and bench routers usually run: common practice; no published source. For
a vee or ball the diameter is the width that it cuts. Surfacing bits have their own figures (our estimate).
)";

// Charts are right to half: their limit has a margin, one of the tool's own has none.
constexpr double chart_margin = 1.55;
constexpr double share_allowed = 0.5;   // our own choice, no source
constexpr double rounding = 1e-4;       // loads are kept in single precision
constexpr double share_reached = 0.95;  // of the F word: from here on the machine counts as reaching it

// How much faster than the centre the cut goes along the wall of a bore: the centre's way has radius r, the wall's that
// and half the cutter's width. Only where the cutter covers the middle, so that nothing stands inside.
double edgeShare(const Motion& m, double width_mm) {
  if (!isArc(m) || m.plane != Plane::xy) return 1;
  const double way_mm = length(WorkPoint2{m.start.x, m.start.y} - m.centre), reach_mm = width_mm / 2;
  return way_mm > 0 && way_mm < reach_mm ? (way_mm + reach_mm) / way_mm : 1;
}

struct RubbingMove {
  double seconds = 0, chip_load_mm = 0;
  double rpm_wanted = 0, feed_wanted_mm_min = 0;  // either alone would do
};

struct Rubbing {
  std::vector<Occurrence> occurrences;
  std::vector<RubbingMove> moves;
  double cutting_s = 0, rubbing_s = 0, reached_s = 0;  // reached: rubbing at the full F word
  double chip_load_mm_s = 0;                           // chip load times seconds
  double wanted_mm = 0;                                // the least that would do, largest over the moves
  bool everywhere() const { return rubbing_s >= cutting_s * 0.995; }
};

class Gatherer {
 public:
  explicit Gatherer(const Facts& facts) : facts_(facts), bodies_(facts.job) {}

  void add(const ToolMove& move, std::map<int, Rubbing>& by_tool) {
    const MoveLoad load = loadOf(facts_, move.program, move.index);
    if (load.chip_load_mm <= 0) return;
    const MoveCut cut = cutOf(facts_, move.program, move.index);
    const std::optional<ChipRange> range = chipRange(move.tool, facts_.job.stock, bodies_.of(move.tool), cut);
    if (!range) return;
    Rubbing& r = by_tool[move.tool.number];
    const double width = diameterAt_mm(bodies_.of(move.tool), cut.section_height_mm);
    const double seconds = moveSeconds(facts_, move.motion, load),
                 chip = load.chip_load_mm * edgeShare(move.motion, width);
    r.cutting_s += seconds;
    const double margin = move.tool.chip_load_mm ? 1 : chart_margin;
    if (chip >= range->rubs_below_mm / margin * (1 - rounding)) return;
    const double share = chip / range->rubs_below_mm, feed = move.motion.feed_mm_min;
    r.rubbing_s += seconds;
    if (load.speed_mm_min >= share_reached * feed) r.reached_s += seconds;
    r.chip_load_mm_s += chip * seconds;
    r.wanted_mm = std::max(r.wanted_mm, range->rubs_below_mm);
    r.moves.push_back(
        {seconds, chip, move.motion.rpm * share, feedFor(move, load.speed_mm_min, load.speed_mm_min / share)});
    r.occurrences.push_back({move.index, chip, move.motion.start});
  }

 private:
  // The feed at which the move goes so fast on average; infinity where it is too short for that. One that goes no
  // faster than from rest to rest takes its length over the feed, and the feed over the acceleration; others keep their
  // speed.
  double feedFor(const ToolMove& move, double speed_mm_min, double mean_mm_min) const {
    const double feed = move.motion.feed_mm_min, naive = feed * mean_mm_min / speed_mm_min;
    if (!machineKnown(facts_)) return naive;
    const clock::MovePath path = clock::movePath(move.motion, clock::axisLimits(facts_.job.machine), 0);
    const double length = path.length_mm, a = path.acceleration_mm_s2;
    const double now_s = length * 60 / feed + feed / 60 / a;
    if (speed_mm_min > (length * 60 / now_s + feed) / 2) return naive;
    const double seconds = length * 60 / mean_mm_min, rest = seconds * seconds - 4 * length / a;
    return rest < 0 ? std::numeric_limits<double>::infinity() : 60 * a * (seconds - std::sqrt(rest)) / 2;
  }

  const Facts& facts_;
  ToolBodies bodies_;
};

// The settings at which the tool rubs for no more than the share allowed: the moves hardest to help go on rubbing.
ChipSettings settingsFor(const Rubbing& r, double rpm_now) {
  ChipSettings settings;
  settings.rpm_now = rpm_now;
  settings.machine_reaches_feed = r.reached_s > share_allowed * r.rubbing_s;
  std::vector<RubbingMove> moves = r.moves;
  const auto firstBeyond = [&](auto harder) {
    std::sort(moves.begin(), moves.end(), harder);
    double still_rubbing_s = 0;
    for (const RubbingMove& m : moves) {
      still_rubbing_s += m.seconds;
      if (still_rubbing_s > share_allowed * r.cutting_s) return m;
    }
    return moves.back();
  };
  settings.rpm =
      firstBeyond([](const RubbingMove& a, const RubbingMove& b) { return a.rpm_wanted < b.rpm_wanted; }).rpm_wanted;
  settings.feed_mm_min = firstBeyond([](const RubbingMove& a, const RubbingMove& b) {
                           return a.feed_wanted_mm_min > b.feed_wanted_mm_min;
                         }).feed_wanted_mm_min;
  return settings;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  Gatherer gatherer(facts);
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    std::map<int, Rubbing> by_tool;
    const std::vector<FeedSlip> slips = feedSlips(facts, i);
    movesByTool(facts, i, [&](const ToolMove& move) -> std::optional<double> {
      const bool slipped =
          std::any_of(slips.begin(), slips.end(), [&](const FeedSlip& s) { return s.tool == move.tool.number; });
      if (!slipped) gatherer.add(move, by_tool);
      return std::nullopt;
    });
    for (const auto& [number, r] : by_tool) {
      if (r.rubbing_s <= share_allowed * r.cutting_s) continue;
      Finding f = toolFinding(facts, i, chip_thin_rule, number, r.occurrences, Worst::smallest, Quantity::fine_length);
      f.amount = r.chip_load_mm_s / r.rubbing_s;
      const Compared chip = comparedText(facts.job, Quantity::fine_length, *f.amount, r.wanted_mm);
      f.amount_text = chip.actual;
      const std::string when = r.everywhere()
                                   ? "throughout"
                                   : fmt::format("for {:.0f} % of its cutting time", 100 * r.rubbing_s / r.cutting_s);
      f.message = fmt::format("{}: chip load {} {}; below {} the bit rubs instead of cutting", f.subject, chip.actual,
                              when, chip.limit);
      const Motion& first = facts.programs[i].program.motions[r.occurrences.front().move];
      adviseThickerChips(facts, *findTool(facts.job, number), settingsFor(r, first.rpm), f);
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace chip_thin

const Rule chip_thin_rule{"chip-thin", Level::note, "A tool rubs for most of its cutting time.", chip_thin::page,
                          chip_thin::check};

}  // namespace provecut
