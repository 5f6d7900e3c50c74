// How much of a thing must be held: of a shank by the collet, of a screw by the spoilboard.
#pragma once

#include "parser/job/job.h"

namespace provecut {

// Shank diameters that the collet must hold. Common practice, no published source.
inline constexpr double min_grip_in_shanks = 4;

// What a screw must bite into the spoilboard: 10 mm, or three shaft diameters where that is more; never more than the
// spoilboard is thick. Common practice, no published source.
double minBite_mm(const Job& job, const HoldDown& screw);

}  // namespace provecut
