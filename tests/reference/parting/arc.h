#pragma once

#include <cmath>
#include <numbers>

namespace provecut::reference {

// The signed turn in radians of an arc between two points about a centre: positive counter-clockwise, never zero.
// A full circle where the two points are one (within 1e-9 mm).
inline double arcTurn(double from_x, double from_y, double to_x, double to_y, double centre_x, double centre_y,
                      bool clockwise) {
  const double full = 2 * std::numbers::pi;
  if (std::hypot(to_x - from_x, to_y - from_y) < 1e-9) return clockwise ? -full : full;
  double turn = std::atan2(to_y - centre_y, to_x - centre_x) - std::atan2(from_y - centre_y, from_x - centre_x);
  if (clockwise) {
    while (turn >= 0) turn -= full;
    while (turn < -full) turn += full;
  } else {
    while (turn <= 0) turn += full;
    while (turn > full) turn -= full;
  }
  return turn;
}

}  // namespace provecut::reference
