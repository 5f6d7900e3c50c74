// How far a sheet may be off the thickness that it is sold as.
#pragma once

#include <optional>

#include "parser/job/job.h"

namespace provecut::pieces {

struct SoldSpread {
  double thinner_mm = 0, thicker_mm = 0;
};

// By the standard of its material: ISO 7823-1 for cast acrylic, EN 315 for sanded plywood, EN 622-1 for MDF, EN 300
// for boards of any other kind (from memory; a particleboard by EN 312 and a sanded OSB vary by 0.3 mm). Nothing for a
// material without a standard, and for a thickness that no sheet is sold as: that was measured.
std::optional<SoldSpread> soldSpread(Material material, double thickness_mm);

}  // namespace provecut::pieces
