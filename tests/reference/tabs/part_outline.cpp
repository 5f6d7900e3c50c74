#include "tests/reference/tabs/part_outline.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace provecut::reference {
namespace {

constexpr double kPi = std::numbers::pi;

template <class Change>
Path changed(const Path& path, const Change& change) {
  Path result;
  for (const PathSegment& s : path.segments) {
    result.segments.push_back({s.kind, change(s.from), change(s.to), change(s.centre)});
  }
  return result;
}

PlanPoint turned(PlanPoint p, double angle) {
  return {p.x * std::cos(angle) - p.y * std::sin(angle), p.x * std::sin(angle) + p.y * std::cos(angle)};
}

// Of equal sides; begins in the middle of one, where no corner is.
Path polygon(int corners, double half) {
  const double reach = half / std::cos(kPi / corners);
  std::vector<PlanPoint> points{{-half, 0}};
  for (int k = 0; k < corners; ++k) points.push_back(turned({-reach, 0}, kPi / corners * (2 * k + 1)));
  return polygonPath(points);
}

PartOutline withCorners(Dice& dice, double half, double radius) {
  if (dice.chance(0.3)) {
    const int corners = dice.integer(3, 6);
    return {polygon(corners, half), polygon(corners, half + radius), false};
  }
  const double longer = half * dice.real(1, 1.6);
  const double corner = dice.chance(0.3) ? dice.real(0.2, 0.6) * half : 0;
  const double outer = corner > 0 ? corner + radius : 0;
  return {rectanglePath({0, 0}, half, longer, corner), rectanglePath({0, 0}, half + radius, longer + radius, outer),
          false};
}

}  // namespace

PartOutline randomOutline(Dice& dice, OutlineForm form, double half, double radius) {
  if (form == OutlineForm::round || dice.chance(0.15)) {
    const double start = dice.real(0, 2 * kPi);
    const bool backward = dice.chance(0.5);
    const bool halves = dice.chance(0.5);
    return {circlePath({0, 0}, half, start, backward, halves),
            circlePath({0, 0}, half + radius, start, backward, halves), true};
  }
  PartOutline o = withCorners(dice, half, radius);
  const double angle = dice.chance(0.4) ? 0 : dice.real(0, 2 * kPi);
  const bool backward = dice.chance(0.5);
  for (Path* path : {&o.edge, &o.path}) {
    *path = changed(*path, [&](PlanPoint p) { return turned(p, angle); });
    if (backward) *path = reversed(*path);
  }
  return o;
}

Path movedPath(const Path& path, PlanPoint by) {
  return changed(path, [&](PlanPoint p) { return PlanPoint{p.x + by.x, p.y + by.y}; });
}

PlanBox boxAbout(const Path& path) {
  const PlanPoint start = pointOn(path, 0);
  PlanBox box{start.x, start.x, start.y, start.y};
  const double length = lengthOf(path);
  const int steps = std::max(200, static_cast<int>(length / 0.1));
  for (int k = 0; k <= steps; ++k) {
    const PlanPoint p = pointOn(path, length * k / steps);
    box = {std::min(box.x0, p.x), std::max(box.x1, p.x), std::min(box.y0, p.y), std::max(box.y1, p.y)};
  }
  return box;
}

}  // namespace provecut::reference
