#include "report/rules/shared/lift_advice.h"

#include <fmt/core.h>

#include <algorithm>
#include <limits>

#include "report/base/wording.h"
#include "report/facts/measures.h"
#include "report/rules/shared/height_advice.h"
#include "sim/clearance/tolerance.h"
#include "sim/tool/tool_body.h"

namespace provecut {

namespace {

bool below(double z_mm, double limit_mm) {
  return z_mm < limit_mm - clearance::contact_tolerance_mm;
}

// Those in canned cycles, or the others.
std::vector<std::uint32_t> ofCycles(const Program& program, std::span<const std::uint32_t> moves, bool in_cycle) {
  std::vector<std::uint32_t> of;
  for (const std::uint32_t m : moves) {
    if (((program.motions[m].flags & motion_in_cycle) != 0) == in_cycle) of.push_back(m);
  }
  return of;
}

std::vector<std::uint32_t> linesOf(const Program& program, const std::vector<std::uint32_t>& moves) {
  std::vector<std::uint32_t> lines;
  for (const std::uint32_t m : moves) lines.push_back(program.motions[m].line);
  std::sort(lines.begin(), lines.end());
  lines.erase(std::unique(lines.begin(), lines.end()), lines.end());
  return lines;
}

bool contains(std::span<const std::uint32_t> moves, std::uint32_t m) {
  return std::find(moves.begin(), moves.end(), m) != moves.end();
}

bool goesUpOnly(const Motion& m) {
  return m.end.x == m.start.x && m.end.y == m.start.y && m.end.z > m.start.z;
}

// The last move before the tool change where the tool has not left that height yet and does not go below it.
std::optional<std::uint32_t> lowChangeBefore(const Program& p, std::uint32_t move) {
  const Motion& m = p.motions[move];
  if (m.end.z < m.start.z) return std::nullopt;
  for (std::uint32_t k = move; k > 0; --k) {
    const Motion& earlier = p.motions[k - 1];
    if (!moves(earlier)) continue;
    if (earlier.end.z != m.start.z) return std::nullopt;
    if (earlier.tool != m.tool) return k - 1;
    if (earlier.start.z != m.start.z) return std::nullopt;
  }
  return std::nullopt;
}

// Of the tool change between two moves.
std::uint32_t changeLine(const Program& p, std::uint32_t before, std::uint32_t move) {
  std::uint32_t line = p.motions[move].line;
  for (const Event& e : p.events) {
    if (e.kind == EventKind::tool_change && e.before_motion > before && e.before_motion <= move) line = e.place.line;
  }
  return line;
}

Lift retractBeforeChange(const Facts& facts, std::size_t program, double z_mm, std::uint32_t line) {
  return {fmt::format("retract to {} before the tool change on line {}", heightText(facts, program, z_mm), line),
          {{ChangeKind::retract_before, z_mm, {line}, 0, -1, {}}}};
}

// How high the machine takes the tip, as far as that is known.
double highestTip(const Facts& facts, std::size_t program) {
  if (!machineKnown(facts)) return std::numeric_limits<double>::infinity();
  const double travel = facts.job.machine.travel_mm.z;
  if (const auto& zero = facts.programs[program].setup->zero_in_machine_mm) return (zero->z < 0 ? 0 : travel) - zero->z;
  double lowest = 0;
  for (const Motion& m : facts.programs[program].program.motions) {
    if (moves(m) && !(m.flags & motion_height_unknown)) lowest = std::min(lowest, m.end.z);
  }
  return lowest + travel;
}

std::string howToCross(const Facts& facts, std::size_t program, const std::vector<std::uint32_t>& moves, double z_mm) {
  const Program& p = facts.programs[program].program;
  const auto startsLow = [&](std::uint32_t m) { return below(p.motions[m].start.z, z_mm); };
  const std::string height = heightText(facts, program, z_mm), these = moves.size() > 1 ? "these moves" : "this move";
  const char* after = moves.size() > 1 ? ", and come down after them" : ", and come down after it";
  const std::string down = comingDown(p, moves, z_mm).empty() ? "" : after;
  if (std::all_of(moves.begin(), moves.end(), startsLow))
    return fmt::format("retract to {} or higher before {}{}", height, these, down);
  return fmt::format("stay at {} or higher on {}{}", height, these, down);
}

}  // namespace

double reachBelowTip(const Facts& facts, int tool) {
  const Tool* t = findTool(facts.job, tool);
  if (t == nullptr) return 0;
  double lowest = 0;
  for (const BodyPiece& piece : toolBody(*t, facts.job.collet_nut, facts.job.spindle_attachments).pieces)
    lowest = std::min(lowest, piece.z0);
  return -lowest;
}

std::optional<Lift> takeMovesFromLowChange(const Facts& facts, std::size_t program, std::vector<Occurrence>& moves) {
  const ProgramFacts& p = facts.programs[program];
  const std::vector<Motion>& motions = p.program.motions;
  std::optional<Lift> lift;
  std::erase_if(moves, [&](const Occurrence& o) {
    const std::optional<std::uint32_t> before = lowChangeBefore(p.program, o.move);
    if (!before) return false;
    const double reach_mm =
        std::max(reachBelowTip(facts, motions[*before].tool), reachBelowTip(facts, motions[o.move].tool));
    const double z_mm = highestStanding(facts, p).z + facts.job.limits.clearance_mm + reach_mm;
    if (!lift) lift = retractBeforeChange(facts, program, z_mm, changeLine(p.program, *before, o.move));
    return true;
  });
  return lift;
}

void adviseToo(const Lift& lift, Finding& finding) {
  if (finding.ways.empty()) return;
  finding.help = sentence(lift.text) + " " + finding.help;
  for (std::vector<AdvisedChange>& way : finding.ways) way.insert(way.end(), lift.changes.begin(), lift.changes.end());
}

std::vector<std::uint32_t> comingDown(const Program& program, std::span<const std::uint32_t> lifted, double z_mm) {
  std::vector<std::uint32_t> down;
  for (const std::uint32_t m : lifted) {
    const Motion& move = program.motions[m];
    std::uint32_t next = m + 1;
    while (next < program.motions.size() && !moves(program.motions[next])) ++next;
    if (next >= program.motions.size() || contains(lifted, next) || !below(move.end.z, z_mm)) continue;
    if (move.end.z == move.start.z && (program.motions[next].end.z != move.end.z)) continue;
    if (!goesUpOnly(program.motions[next])) down.push_back(m);
  }
  return down;
}

std::optional<Lift> liftOver(const Facts& facts, std::size_t program, std::span<const std::uint32_t> moves,
                             double clear_z_mm) {
  const Program& p = facts.programs[program].program;
  double z_mm = clear_z_mm;
  for (const std::uint32_t m : moves) z_mm = std::max(z_mm, clear_z_mm + reachBelowTip(facts, p.motions[m].tool));
  if (z_mm > highestTip(facts, program)) return std::nullopt;
  const std::vector<std::uint32_t> in_cycle = ofCycles(p, moves, true);
  std::vector<std::uint32_t> others = ofCycles(p, moves, false);
  Lift lift;
  // Up after the change it would cut, or hit, on its way.
  std::erase_if(others, [&](std::uint32_t m) {
    const std::optional<std::uint32_t> before = lowChangeBefore(p, m);
    if (before && lift.text.empty()) lift = retractBeforeChange(facts, program, z_mm, changeLine(p, *before, m));
    return before.has_value();
  });
  if (!others.empty()) {
    lift.text += (lift.text.empty() ? "" : ", and ") + howToCross(facts, program, others, z_mm);
    lift.changes.push_back({ChangeKind::cross_at, z_mm, linesOf(p, others), 0, -1, {}});
  }
  if (!in_cycle.empty()) {
    lift.text += (lift.text.empty() ? "" : ", and ") +
                 raiseRText(facts, program, z_mm, others.empty() ? 0 : p.motions[in_cycle.front()].line);
    lift.changes.push_back({ChangeKind::cycle_r, z_mm, linesOf(p, in_cycle), 0, -1, {}});
  }
  return lift;
}

}  // namespace provecut
