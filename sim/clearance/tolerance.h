// The one contact tolerance: within it a touch counts as a hit.
#pragma once

namespace provecut::clearance {

inline constexpr double contact_tolerance_mm = 1e-6;

}  // namespace provecut::clearance
