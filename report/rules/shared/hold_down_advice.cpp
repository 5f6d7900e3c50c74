#include "report/rules/shared/hold_down_advice.h"

#include <fmt/core.h>

#include <algorithm>
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
  if (h.kind != HoldDownKind::pin) {
    if (const ClearSpot* spot = clearSpot(facts.run, facts.run.programs[program].setup, hold_down)) {
      ways.push_back(fmt::format("move {} {}, to {}", h.name, shiftText(facts.job, (spot->at - h.at_mm)),
                                 spotText(facts.job, spot->at)));
    }
    ways.push_back(fmt::format("remove {} before this program", ways.empty() ? h.name : "it"));
  } else if (ways.empty()) {
    ways.push_back(fmt::format("keep this program's moves clear of {}, or use a shorter pin", h.name));
  }
  std::string text;
  for (const std::string& way : ways) text += text.empty() ? sentence(way) : " Or " + way + ".";
  return text;
}

}  // namespace provecut
