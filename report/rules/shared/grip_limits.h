// How a thing must be held: a shank by the collet, a screw by the spoilboard, a pin by its hole.
#pragma once

#include <string_view>

#include "parser/job/job.h"

namespace provecut {

// Shank diameters that the collet must hold. Common practice, no published source.
inline constexpr double min_grip_in_shanks = 4;

// What a screw must bite into the spoilboard: 10 mm, or three shaft diameters where that is more; never more than the
// spoilboard is thick. Common practice, no published source.
double minBite_mm(const Job& job, const HoldDown& screw);

// How much wider than its pin a hole should be: "0.05 to 0.15 mm", in an inch job "0.002 to 0.006 in". Common practice,
// no published source.
std::string_view pinPlayText(const Job& job);

}  // namespace provecut
