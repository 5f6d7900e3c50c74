#include "report/rules/shared/hold_down_advice.h"

#include <fmt/core.h>

#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

#include "report/base/dimension_text.h"
#include "report/base/wording.h"
#include "report/facts/measures.h"
#include "report/rules/shared/lift_advice.h"
#include "report/rules/shared/shift_text.h"
#include "sim/clearance/clearance.h"
#include "sim/path/path.h"
#include "sim/tool/tool_body.h"

namespace provecut {

namespace {

const ClearSpot* clearSpot(const Run& run, int setup, int hold_down) {
  const auto at = std::find_if(run.clear_spots.begin(), run.clear_spots.end(),
                               [&](const ClearSpot& s) { return s.setup == setup && s.hold_down == hold_down; });
  return at == run.clear_spots.end() ? nullptr : &*at;
}

// As the program starts: one through at least half the thickness.
bool hasPilotHole(const Facts& facts, std::size_t program, int hold_down) {
  return std::any_of(facts.run.screw_seats.begin(), facts.run.screw_seats.end(), [&](const ScrewSeat& s) {
    return s.program == static_cast<int>(program) && s.hold_down == hold_down &&
           s.pilot_mm >= facts.job.stock.size_mm.z / 2;
  });
}

// The tool of which only the collet nut or the spindle runs into the hold-down: with more stickout they clear it.
// Absent where several tools do, or another part of one.
std::optional<int> toolTooShort(const Facts& facts, std::size_t program, int hold_down) {
  std::optional<int> tool;
  for (const Contact& c : facts.run.programs[program].contacts) {
    if (c.hold_down != hold_down) continue;
    const int number = facts.programs[program].program.motions[c.move].tool;
    if (c.part != ToolPart::collet_nut && c.part != ToolPart::spindle) return std::nullopt;
    if (tool && *tool != number) return std::nullopt;
    tool = number;
  }
  return tool;
}

// Whether every rapid that is lifted over the hold-down can come down again where it ends.
bool endsClear(const Facts& facts, std::size_t program, const HoldDown& h, std::span<const std::uint32_t> moves,
               double z_mm) {
  const ProgramFacts& p = facts.programs[program];
  const clearance::Obstacle o = clearance::obstacle(h, facts.job.stock.size_mm.z);
  for (const std::uint32_t m : comingDown(p.program, moves, z_mm)) {
    const Motion& motion = p.program.motions[m];
    const Tool* tool = findTool(facts.job, motion.tool);
    if (tool == nullptr) return false;
    const ToolBody body = toolBody(*tool, facts.job.collet_nut, facts.job.spindle_attachments);
    Motion down = motion;
    down.start = {motion.end.x, motion.end.y, std::max(z_mm, motion.end.z)};
    const double wanted = facts.job.limits.clearance_mm;
    if (clearance::leastGap(pathOf(down, p.setup->zero_mm, facts.job.machine), body, o, wanted) < wanted) return false;
  }
  return true;
}

// Absent where the moves are not all sideways rapids, or where going higher would not help.
std::optional<Lift> liftOverHoldDown(const Facts& facts, std::size_t program, const HoldDown& h,
                                     std::span<const std::uint32_t> moves) {
  const ProgramFacts& p = facts.programs[program];
  const bool rapids = std::all_of(moves.begin(), moves.end(), [&](std::uint32_t i) {
    const Motion& m = p.program.motions[i];
    return m.kind == MotionKind::rapid && goesSideways(m);
  });
  const double z_mm = holdDownTopZ(facts, *p.setup, h) + facts.job.limits.clearance_mm;
  if (!rapids || !endsClear(facts, program, h, moves, z_mm)) return std::nullopt;
  return liftOver(facts, program, moves, z_mm);
}

// Whether every piece that it holds keeps two others: with one alone it can turn.
bool othersHold(const Facts& facts, std::size_t program, int hold_down) {
  if (program >= facts.run.programs.size()) return false;
  const std::vector<PieceHeld>& pieces = facts.run.programs[program].holding;
  return !pieces.empty() && std::all_of(pieces.begin(), pieces.end(), [&](const PieceHeld& p) {
    return p.by.size() > 2 || std::find(p.by.begin(), p.by.end(), hold_down) == p.by.end();
  });
}

}  // namespace

HoldDownAdvice holdDownAdvice(const Facts& facts, std::size_t program, int hold_down,
                              std::span<const std::uint32_t> moves) {
  const HoldDown& h = facts.job.hold_downs[hold_down];
  HoldDownAdvice advice;
  std::vector<std::string> ways;
  if (std::optional<Lift> lift = liftOverHoldDown(facts, program, h, moves)) {
    ways.push_back(std::move(lift->text));
    advice.ways.push_back(std::move(lift->changes));
  }
  if (const std::optional<int> tool = toolTooShort(facts, program, hold_down)) {
    ways.push_back(fmt::format("give {} more stickout and set Z zero again", toolText(facts.job, *tool)));
  }
  if (isMovable(h.kind)) {
    const bool held = othersHold(facts, program, hold_down);
    if (held) advice.ways.push_back({{ChangeKind::hold_down_off, 0, {}, 0, hold_down, {}}});
    if (const ClearSpot* spot = clearSpot(facts.run, facts.run.programs[program].setup, hold_down)) {
      const bool same_piece = held || facts.run.programs[program].holding.size() <= 1;
      ways.push_back(fmt::format("move {} {}, to {}{}{}", h.name, shiftText(facts.job, (spot->at - h.at_mm)),
                                 spotText(facts.job, spot->at),
                                 hasPilotHole(facts, program, hold_down) ? " (its pilot hole has to move too)" : "",
                                 same_piece ? "" : ", and check again: there it may hold another piece"));
      if (same_piece) advice.ways.push_back({{ChangeKind::hold_down_at, 0, {}, 0, hold_down, spot->at}});
      ways.push_back(held ? "remove it before this program"
                          : "remove it before this program and hold the stock somewhere else");
    } else {
      ways.push_back(fmt::format("remove {} before this program and hold the stock somewhere else", h.name));
    }
  } else if (gripsEdges(h.kind)) {
    ways.push_back(fmt::format("keep this program's moves clear of {}, or let the stock stand higher in it", h.name));
  } else if (ways.empty()) {
    ways.push_back(fmt::format("keep this program's moves clear of {}, or use a shorter pin", h.name));
  }
  for (const std::string& way : ways) advice.text += advice.text.empty() ? sentence(way) : " Or " + way + ".";
  return advice;
}

}  // namespace provecut
