#include "report/facts/measures.h"

#include <cmath>
#include <numbers>

#include "parser/program/arc.h"
#include "sim/clearance/tolerance.h"
#include "sim/clock/path_limits.h"
#include "sim/path/motion_extent.h"
#include "sim/path/setup_frame.h"
#include "sim/path/stock_plan.h"

namespace provecut {

bool machineKnown(const Facts& facts) {
  return !facts.job.file.empty();
}

std::span<const int> standing(const ProgramFacts& program) {
  if (!program.entry) return {};
  return program.entry->hold_downs;
}

double stockTopZ(const Facts& facts, const Setup& setup) {
  return facts.job.stock.size_mm.z - setup.zero_mm.z;
}

double holdDownTopZ(const Facts& facts, const Setup& setup, const HoldDown& hold_down) {
  return stockTopZ(facts, setup) + hold_down.top_mm;
}

double spoilboardZ(const Setup& setup) {
  return -setup.lift_mm - setup.zero_mm.z;
}

Highest highestStanding(const Facts& facts, const ProgramFacts& program) {
  Highest highest{stockTopZ(facts, *program.setup), nullptr};
  for (const int index : standing(program)) {
    const HoldDown& h = facts.job.hold_downs[index];
    const double top = holdDownTopZ(facts, *program.setup, h);
    if (isObstacle(h) && top > highest.z) highest = {top, &h};
  }
  return highest;
}

bool overStock(const Facts& facts, const Setup& setup, WorkPoint p) {
  return beyondEdge_mm(stockPlan(facts.job.stock, setup), flat(workToSetup(setup, p))) < 0;
}

MoveCut cutOf(const Facts& facts, std::size_t program, std::size_t move) {
  if (program >= facts.run.programs.size()) return {};
  const std::vector<MoveCut>& cuts = facts.run.programs[program].cuts;
  return move < cuts.size() ? cuts[move] : MoveCut{};
}

MoveLoad loadOf(const Facts& facts, std::size_t program, std::size_t move) {
  if (program >= facts.run.programs.size()) return {};
  const std::vector<MoveLoad>& loads = facts.run.programs[program].loads;
  return move < loads.size() ? loads[move] : MoveLoad{};
}

double moveSeconds(const Facts& facts, const Motion& motion, const MoveLoad& load) {
  if (load.speed_mm_min <= 0) return 0;
  const double way_mm = isArc(motion) ? clock::movePath(motion, clock::axisLimits(facts.job.machine), 0).length_mm
                                      : length(motion.end - motion.start);
  return way_mm * 60 / load.speed_mm_min;
}

double descentDeg(const Motion& motion) {
  const double down = motion.start.z - motion.end.z;
  if (!moves(motion) || down <= clearance::contact_tolerance_mm) return 0;
  double level = length(flat(motion.end - motion.start));
  if (isArc(motion)) {
    if (motion.plane != Plane::xy) return 0;  // no one angle
    level = std::sqrt(std::max(0.0, arcLength(motion) * arcLength(motion) - down * down));
  }
  return std::atan2(down, level) * 180 / std::numbers::pi;
}

bool goesSideways(const Motion& motion) {
  return isArc(motion) || length(flat(motion.end - motion.start)) > clearance::contact_tolerance_mm;
}

WorkPoint lowestTip(const Motion& motion) {
  return motion.flags & motion_start_unknown ? motion.end : lowestPoint(motion);
}

}  // namespace provecut
