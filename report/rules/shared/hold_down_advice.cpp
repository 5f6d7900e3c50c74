#include "report/rules/shared/hold_down_advice.h"

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
  const HoldDown& h = facts.job.hold_downs[static_cast<std::size_t>(hold_down)];
  std::vector<std::string> ways;
  const bool over_it_by_rapid = std::all_of(moves.begin(), moves.end(), [&](std::uint32_t i) {
    const Motion& m = p.program.motions[i];
    return m.kind == MotionKind::rapid && goesSideways(m);
  });
  if (over_it_by_rapid) {
    const double z_mm = holdDownTopZ(facts, *p.setup, h) + facts.job.limits.clearance_mm;
    ways.push_back("retract to " + zAtLeastText(facts.job, z_mm) +
                   (moves.size() > 1 ? " or higher before these moves" : " or higher before this move"));
  }
  if (h.kind != HoldDownKind::pin) {
    if (const Escape* e = nearestEscape(facts, facts.run.programs[program].setup, hold_down)) {
      ways.push_back("move " + h.name + " at least " + atLeastText(facts.job, Quantity::length, e->distance_mm) + " " +
                     std::string(directionText(e->direction.vec())));
    }
    ways.push_back(ways.empty() ? "start this program without " + h.name : "start this program without it");
  } else if (ways.empty()) {
    ways.push_back("keep this program's moves clear of " + h.name + ", or choose a shorter pin");
  }
  std::string text;
  for (std::size_t i = 0; i < ways.size(); ++i) text += (i > 0 ? ", or " : "") + ways[i];
  text.front() = static_cast<char>(text.front() - 'a' + 'A');
  return text + ".";
}

}  // namespace provecut
