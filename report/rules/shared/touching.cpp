#include "report/rules/shared/touching.h"

#include <cmath>

#include "report/facts/measures.h"

namespace provecut {

bool endsOnTop(const Facts& facts, std::size_t program, const Motion& motion, const MoveCut& cut) {
  if (cutsMaterial(cut) || double{cut.ends_above_mm} >= touching_mm) return false;
  const double material_z = motion.end.z - double{cut.ends_above_mm};
  return std::fabs(material_z - stockTopZ(facts, *facts.programs[program].setup)) < double{least_bite_mm};
}

}  // namespace provecut
