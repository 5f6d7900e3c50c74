#include "report/rules/shared/cut_short.h"

#include <algorithm>

#include "report/facts/measures.h"
#include "sim/clearance/tolerance.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace {

bool measuredThicker(const Facts& facts) {
  return facts.said_thickness_mm && facts.job.stock.size_mm.z > *facts.said_thickness_mm;
}

// Whether the program left something that thin: the underside may be cut away where a move ends just above it.
bool leftSkin(const ProgramRun& run, double limit_mm) {
  const bool floor = std::any_of(run.thin_floors.begin(), run.thin_floors.end(),
                                 [&](const ThinFloor& t) { return t.thickness_mm <= limit_mm; });
  return floor || std::any_of(run.pieces.begin(), run.pieces.end(), [](const Piece& p) {
           return std::any_of(p.tabs.begin(), p.tabs.end(), [](const Tab& t) { return t.onion_skin; });
         });
}

}  // namespace

double shortCutLimit_mm(const Facts& facts, std::size_t program) {
  const ProgramFacts& p = facts.programs[program];
  if (!p.entry->through || !facts.run.programs[program].doubtful_throughs.empty()) return 0;
  if (measuredThicker(facts) && p.setup->zero_z_on_top)
    return facts.job.stock.size_mm.z - *facts.said_thickness_mm + clearance::contact_tolerance_mm;
  return leftSkin(facts.run.programs[program], least_meant_skin_mm)
             ? least_meant_skin_mm - clearance::contact_tolerance_mm
             : 0;
}

std::vector<Occurrence> cutsThatFallShort(const Facts& facts, std::size_t program) {
  const double limit_mm = shortCutLimit_mm(facts, program);
  const ProgramFacts& p = facts.programs[program];
  std::vector<Occurrence> cuts;
  for (std::uint32_t m = 0; limit_mm > 0 && m < p.program.motions.size(); ++m) {
    if (!cutsMaterial(cutOf(facts, program, m))) continue;
    const WorkPoint tip = lowestTip(p.program.motions[m]);
    const double skin_mm = workToSetup(*p.setup, tip).z;
    if (skin_mm > clearance::contact_tolerance_mm && skin_mm <= limit_mm) cuts.push_back({m, skin_mm, tip});
  }
  return cuts;
}

}  // namespace provecut
