#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>
#include <vector>

#include "report/base/wording.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/lift_advice.h"
#include "sim/clearance/clearance.h"
#include "sim/clearance/tolerance.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace rapid_dogleg {

constexpr std::string_view page = R"(## What it finds

With `machine.rapids = "independent"`: a rapid below the clearance height whose real path, each axis at its own rate,
leaves the straight line by more than 1 mm. Everything else is checked along that real path. With straight rapids: a
rapid that passes a hold-down, but would touch it on a machine that runs each axis at its own rate.

## Why it matters

Two axes at equal rates run at 45° until the shorter move is done, then along the other axis alone. A move of 100 × 40
mm is 22 mm off the line that the drawing shows.

## Example

    G0 X0 Y0
    G0 X100 Y40

## What to do

Lift to the clearance height before moving sideways, or move one axis at a time.

## What `amount` is

How far the path leaves the straight line in mm, the largest of the group.

## Source

Geometry. In the published RS-274/NGC language (NISTIR 6556, 3.5.1) rapids are straight; some machines run them
otherwise.
)";

constexpr double min_deviation_mm = 1;

double fromLine(SetupPoint a, SetupPoint b, SetupPoint p) {
  const Vec3 d = b - a;
  const double dd = dot(d, d);
  const double t = dd > 0 ? std::clamp(dot(p - a, d) / dd, 0.0, 1.0) : 0;
  return length(p - (a + d * t));
}

double deviation(const Path& path) {
  double farthest = 0;
  const SetupPoint a = path.pieces.front().start, b = path.pieces[path.count - 1].end;
  for (const PathPiece& piece : path) farthest = std::max(farthest, fromLine(a, b, piece.end));
  return farthest;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  if (!machineKnown(facts)) return;
  const bool dogleg = facts.job.machine.rapids == Rapids::independent;
  Machine other = facts.job.machine;
  other.rapids = dogleg ? Rapids::straight : Rapids::independent;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    const Setup& setup = *p.setup;
    const double clear_z = highestStanding(facts, p).z + facts.job.limits.clearance_mm;
    std::vector<clearance::StandingHoldDown> obstacles;
    if (!dogleg) obstacles = provecut::clearance::standing(facts.job, setup, *p.entry);
    std::vector<Occurrence> off;
    std::string touched;
    const Tool* tool = nullptr;
    ToolBody body;
    for (std::uint32_t m = 0; m < p.program.motions.size(); ++m) {
      const Motion& motion = p.program.motions[m];
      if (motion.kind != MotionKind::rapid || (motion.flags & (motion_start_unknown | motion_height_unknown))) continue;
      if (lowestTip(motion).z >= clear_z - clearance::contact_tolerance_mm || !goesSideways(motion)) continue;
      Machine independent = facts.job.machine;
      independent.rapids = Rapids::independent;
      const Path way = pathOf(motion, setup.zero_mm, independent);
      if (way.count < 2) continue;
      const double by = deviation(way);
      if (by <= min_deviation_mm) continue;
      if (dogleg) {
        off.push_back({m, by, motion.start});
        continue;
      }
      if (!tool || tool->number != motion.tool) {
        tool = findTool(facts.job, motion.tool);
        if (tool) body = toolBody(*tool, facts.job.collet_nut, facts.job.spindle_attachments);
      }
      if (!tool) continue;
      const Path straight = pathOf(motion, setup.zero_mm, facts.job.machine);
      for (const clearance::StandingHoldDown& h : obstacles) {
        if (clearance::leastGap(way, body, h.obstacle, 1) > clearance::contact_tolerance_mm ||
            clearance::leastGap(straight, body, h.obstacle, 1) <= clearance::contact_tolerance_mm)
          continue;
        off.push_back({m, by, motion.start});
        if (touched.empty()) touched = facts.job.hold_downs[h.index].name;
      }
    }
    if (off.empty()) continue;
    Finding f = groupFinding(facts, i, rapid_dogleg_rule, off, Worst::largest, Quantity::length);
    const std::string by = quantityText(facts.job, Quantity::length, *f.amount);
    if (dogleg) {
      f.message =
          fmt::format("low rapid bends {}{} away from the straight line: each axis moves at its own rate", upTo(f), by);
    } else {
      f.subject = touched;
      f.message = fmt::format(
          "this rapid hits {} on a machine that moves each axis at its own rate: there it bends {}{} away "
          "from the straight line",
          touched, upTo(f), by);
    }
    std::vector<std::uint32_t> moves;
    for (const Occurrence& o : off) moves.push_back(o.move);
    f.help = "Move X and Y one after the other.";
    if (std::optional<Lift> lift = liftOver(facts, i, moves, clear_z)) {
      f.ways.push_back(std::move(lift->changes));
      f.help = sentence(lift->text) + " Or move X and Y one after the other.";
    }
    findings.push_back(std::move(f));
  }
}

}  // namespace rapid_dogleg

const Rule rapid_dogleg_rule{"rapid-dogleg", Level::note, "A low rapid is a dogleg, or may be one on some machines.",
                             rapid_dogleg::page, rapid_dogleg::check};

}  // namespace provecut
