// Colours for depth: evenly spaced to the eye, from light (shallow) to dark (deep), so that they also hold in grey.
#pragma once

#include <string>

namespace provecut {

// "#rrggbb" for a share of the maximum depth, 0 to 1. Even steps of CIE L* (ISO/CIE 11664-4), from 72 down to 22, while
// the hue goes from sea green to violet; D65, sRGB (IEC 61966-2-1).
std::string depthColour(double share);

}  // namespace provecut
