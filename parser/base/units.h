// Units of length.
#pragma once

namespace provecut {

inline constexpr double mm_per_inch = 25.4;  // exact: International yard and pound agreement, 1959

}  // namespace provecut
