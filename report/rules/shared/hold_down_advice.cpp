#include "report/rules/shared/hold_down_advice.h"

#include <fmt/core.h>

#include <algorithm>

#include "report/base/wording.h"
#include "report/facts/measures.h"

namespace provecut {

namespace {

const Escape* nearestEscape(const Facts& facts, int setup, int hold_down) {
  const Escape* nearest = nullptr;
  for (const Escape& e : facts.run.escapes) {
    if (e.setup != setup || e.hold_down != hold_down) continue;
    if (!nearest || e.distance_mm < nearest->distance_mm) nearest = &e;
  }
  return nearest;
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
    ways.push_back(fmt::format("retract to {} or higher before {}", zAtLeastText(facts.job, z_mm),
                               moves.size() > 1 ? "these moves" : "this move"));
  }
  if (h.kind != HoldDownKind::pin) {
    if (const Escape* e = nearestEscape(facts, facts.run.programs[program].setup, hold_down)) {
      ways.push_back(fmt::format("move {} at least {} {}", h.name,
                                 atLeastText(facts.job, Quantity::length, e->distance_mm),
                                 directionText(e->direction.vec())));
    }
    ways.push_back(fmt::format("remove {} before this program", ways.empty() ? h.name : "it"));
  } else if (ways.empty()) {
    ways.push_back(fmt::format("keep this program's moves clear of {}, or use a shorter pin", h.name));
  }
  std::string text;
  for (const std::string& way : ways) text += (text.empty() ? "" : ", or ") + way;
  return sentence(text);
}

}  // namespace provecut
