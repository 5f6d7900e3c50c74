// The axes of a plane: first and second of the pair that is counter-clockwise seen from the normal's positive end, and
// the normal (NISTIR 6556 3.5.3): XY with Z, ZX with Y, YZ with X.
#pragma once

#include <array>
#include <cstddef>

#include "parser/base/geometry.h"
#include "parser/program/motion.h"

namespace provecut {

struct PlaneAxes {
  std::size_t first, second, normal;  // 0: X, 1: Y, 2: Z
};

constexpr PlaneAxes axesOf(Plane plane) {
  return plane == Plane::xy ? PlaneAxes{0, 1, 2} : plane == Plane::zx ? PlaneAxes{2, 0, 1} : PlaneAxes{1, 2, 0};
}

inline constexpr std::array<std::size_t, 3> all_axes{0, 1, 2};
inline constexpr char axis_letter[] = {'X', 'Y', 'Z'};
inline constexpr char centre_letter[] = {'I', 'J', 'K'};

// Of a point or a vector.
template <class P>
double& component(P& p, std::size_t axis) {
  return axis == 0 ? p.x : axis == 1 ? p.y : p.z;
}
template <class P>
double component(const P& p, std::size_t axis) {
  return axis == 0 ? p.x : axis == 1 ? p.y : p.z;
}

// The point in the plane's own two axes.
template <class Frame>
Point2<Frame> inPlane(Point3<Frame> p, PlaneAxes a) {
  return {component(p, a.first), component(p, a.second)};
}

}  // namespace provecut
