#include "report/rules/shared/hold_down_advice.h"

#include <fmt/core.h>

#include <algorithm>
#include <optional>
#include <vector>

#include "report/base/dimension_text.h"
#include "report/base/wording.h"
#include "report/facts/measures.h"
#include "report/rules/shared/height_advice.h"
#include "report/rules/shared/shift_text.h"

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

}  // namespace

std::string holdDownAdvice(const Facts& facts, std::size_t program, int hold_down,
                           std::span<const std::uint32_t> moves) {
  const ProgramFacts& p = facts.programs[program];
  const HoldDown& h = facts.job.hold_downs[hold_down];
  std::vector<std::string> ways;
  const bool over_it_by_rapid = std::all_of(moves.begin(), moves.end(), [&](std::uint32_t i) {
    const Motion& m = p.program.motions[i];
    return m.kind == MotionKind::rapid && goesSideways(m);
  });
  if (over_it_by_rapid) {
    const double z_mm = holdDownTopZ(facts, *p.setup, h) + facts.job.limits.clearance_mm;
    ways.push_back(fmt::format("retract to {} or higher before {}", heightText(facts, program, z_mm),
                               moves.size() > 1 ? "these moves" : "this move"));
  }
  if (const std::optional<int> tool = toolTooShort(facts, program, hold_down)) {
    ways.push_back(fmt::format("give {} more stickout and set Z zero again", toolText(facts.job, *tool)));
  }
  if (isMovable(h.kind)) {
    if (const ClearSpot* spot = clearSpot(facts.run, facts.run.programs[program].setup, hold_down)) {
      ways.push_back(fmt::format("move {} {}, to {}{}", h.name, shiftText(facts.job, (spot->at - h.at_mm)),
                                 spotText(facts.job, spot->at),
                                 hasPilotHole(facts, program, hold_down) ? " (its pilot hole has to move too)" : ""));
      ways.push_back("remove it before this program");
    } else {
      ways.push_back(fmt::format("remove {} before this program and hold the stock somewhere else", h.name));
    }
  } else if (gripsEdges(h.kind)) {
    ways.push_back(fmt::format("keep this program's moves clear of {}, or let the stock stand higher in it", h.name));
  } else if (ways.empty()) {
    ways.push_back(fmt::format("keep this program's moves clear of {}, or use a shorter pin", h.name));
  }
  std::string text;
  for (const std::string& way : ways) text += text.empty() ? sentence(way) : " Or " + way + ".";
  return text;
}

}  // namespace provecut
