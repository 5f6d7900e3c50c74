#include "parser/job/outline_check.h"

#include <algorithm>

namespace provecut {

namespace {

double side(SetupPoint2 a, SetupPoint2 b, SetupPoint2 p) {
  return cross(b - a, p - a);
}

// p is known to lie on the line through a and b.
bool within(SetupPoint2 a, SetupPoint2 b, SetupPoint2 p) {
  return p.x >= std::min(a.x, b.x) && p.x <= std::max(a.x, b.x) && p.y >= std::min(a.y, b.y) &&
         p.y <= std::max(a.y, b.y);
}

bool meet(SetupPoint2 a, SetupPoint2 b, SetupPoint2 c, SetupPoint2 d) {
  const double c_side = side(a, b, c), d_side = side(a, b, d), a_side = side(c, d, a), b_side = side(c, d, b);
  const auto opposite = [](double p, double q) { return (p > 0 && q < 0) || (p < 0 && q > 0); };
  if (opposite(c_side, d_side) && opposite(a_side, b_side)) return true;
  return (c_side == 0 && within(a, b, c)) || (d_side == 0 && within(a, b, d)) || (a_side == 0 && within(c, d, a)) ||
         (b_side == 0 && within(c, d, b));
}

}  // namespace

std::optional<std::pair<std::size_t, std::size_t>> crossingEdges(std::span<const SetupPoint2> outline) {
  const std::size_t n = outline.size();
  for (std::size_t i = 0; i < n; ++i) {
    const SetupPoint2 a = outline[i], b = outline[(i + 1) % n];
    if (a == b) return std::pair(i, (i + 1) % n);
    for (std::size_t j = i + 1; j < n; ++j) {
      const SetupPoint2 c = outline[j], d = outline[(j + 1) % n];
      const bool follows = j == i + 1, precedes = (j + 1) % n == i;
      if (follows || precedes) {
        // Neighbours share a corner; they must not fold back on each other.
        const SetupPoint2 corner = follows ? b : a, one = follows ? a : b, other = follows ? d : c;
        if (cross(one - corner, other - corner) == 0 && dot(one - corner, other - corner) > 0) return std::pair(i, j);
      } else if (meet(a, b, c, d)) {
        return std::pair(i, j);
      }
    }
  }
  return std::nullopt;
}

double signedArea(std::span<const SetupPoint2> outline) {
  double twice = 0;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const SetupPoint2 a = outline[i], b = outline[(i + 1) % outline.size()];
    twice += a.x * b.y - a.y * b.x;
  }
  return twice / 2;
}

}  // namespace provecut
