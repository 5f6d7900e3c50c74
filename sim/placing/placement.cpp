#include "sim/placing/placement.h"

#include <algorithm>

#include "sim/path/setup_frame.h"
#include "sim/placing/screw_edge.h"

namespace provecut::placing {

namespace {

using clearance::Obstacle;
using clearance::OnStock;

constexpr double least_grip_mm = 5;  // of a clamp over the edge; common practice, no source
constexpr double rounding_mm = 1e-9;

// How far it reaches over the stock's edge; of an outline, its box.
double grip(Vec3 stock, const Obstacle& o) {
  return std::min({o.high.x, o.high.y, stock.x - o.low.x, stock.y - o.low.y});
}

Vec2 fromSides(Vec3 stock, SetupPoint2 p) {
  return {std::min(p.x, stock.x - p.x), std::min(p.y, stock.y - p.y)};
}

bool onStock(Vec3 stock, SetupPoint2 p) {
  const Vec2 side = fromSides(stock, p);
  return side.x >= 0 && side.y >= 0;
}

bool axisFits(const LieToStock& lie, SetupPoint2 at) {
  if (!lie.axis_on_stock) return !onStock(lie.stock, at);
  const Vec2 side = fromSides(lie.stock, at);
  return side.x >= lie.edge_mm.x - rounding_mm && side.y >= lie.edge_mm.y - rounding_mm;
}

// Whether axisFits() nowhere at most `half` away.
bool axisNeverFits(const LieToStock& lie, SetupPoint2 at, double half) {
  const Vec2 side = fromSides(lie.stock, at);
  if (!lie.axis_on_stock) return side.x > half && side.y > half;
  return side.x < lie.edge_mm.x - half - rounding_mm || side.y < lie.edge_mm.y - half - rounding_mm;
}

Obstacle stockOutline(Vec3 stock) {
  HoldDown box;
  box.at_mm = {stock.x / 2, stock.y / 2};
  box.size_mm = {stock.x, stock.y};
  return clearance::obstacle(box, 0);
}

// Whether some point of `a` lies deeper than `deep` in b.
bool reachesInto(const Obstacle& a, const Obstacle& b, double deep) {
  const auto isIn = [&](SetupPoint2 p) { return clearance::signedDistance(b, p) < -deep; };
  const SetupPoint2 centre = middle(a.low, a.high), to = middle(b.low, b.high);
  if (a.radius_mm > 0) {
    const double away = length(to - centre);
    return isIn(away > a.radius_mm ? centre + (to - centre) * (a.radius_mm / away) : to);
  }
  if (clearance::covers(a, centre) && isIn(centre)) return true;
  return std::any_of(a.edges.begin(), a.edges.end(),
                     [&](const clearance::Edge& e) { return isIn(e.a) || isIn(middle(e.a, e.b)); });
}

// True only where they overlap however one of them is shifted by up to `shift`.
bool overlapAlways(const Obstacle& a, const Obstacle& b, double shift) {
  return reachesInto(a, b, shift) || reachesInto(b, a, shift);
}

bool lieNeverFits(const LieToStock& lie, const Obstacle& there, double half) {
  const Vec3 stock = lie.stock;
  const auto within = [&](double more) {
    return there.low.x >= -more && there.low.y >= -more && there.high.x <= stock.x + more &&
           there.high.y <= stock.y + more;
  };
  switch (lie.lies) {
    case OnStock::on:
      return !within(half);
    case OnStock::beside:
      return within(-half) || overlapAlways(there, stockOutline(stock), half + rounding_mm);
    case OnStock::across:
      return within(-half) || grip(stock, there) < lie.grip_mm - half - rounding_mm;
  }
  return false;
}

}  // namespace

LieToStock lieAsAt(const Job& job, const Setup& setup, const HoldDown& hold_down) {
  LieToStock lie;
  lie.stock = stockSizeInSetup(job.stock, setup);
  const Obstacle home = clearance::obstacle(hold_down, lie.stock.z);
  lie.lies = clearance::lieOn(lie.stock, home);
  lie.grip_mm = std::min(least_grip_mm, grip(lie.stock, home));
  lie.axis_on_stock = onStock(lie.stock, hold_down.at_mm);
  lie.edge_mm = screwEdgeIn(job.stock, setup, hold_down.shaft_diameter_mm);
  return lie;
}

LieToStock edgeAsAt(LieToStock lie, SetupPoint2 home) {
  const Vec2 side = fromSides(lie.stock, home);
  double share = 1;
  if (lie.edge_mm.x > 0) share = std::min(share, side.x / lie.edge_mm.x);
  if (lie.edge_mm.y > 0) share = std::min(share, side.y / lie.edge_mm.y);
  lie.edge_mm = lie.edge_mm * std::max(share, 0.0);
  return lie;
}

bool fits(const Placement& placement, SetupPoint2 at) {
  const Obstacle there = clearance::shifted(placement.form, at - SetupPoint2{});
  for (const LieToStock& lie : placement.to_stocks) {
    if (clearance::lieOn(lie.stock, there) != lie.lies) return false;
    if (lie.lies == OnStock::across && grip(lie.stock, there) < lie.grip_mm - rounding_mm) return false;
    if (placement.screw && !axisFits(lie, at)) return false;
  }
  return std::none_of(placement.others.begin(), placement.others.end(),
                      [&](const Obstacle& o) { return clearance::footprintsOverlap(o, there); });
}

bool neverFits(const Placement& placement, SetupPoint2 middle, double half) {
  const Obstacle there = clearance::shifted(placement.form, middle - SetupPoint2{});
  for (const LieToStock& lie : placement.to_stocks) {
    if (lieNeverFits(lie, there, half)) return true;
    if (placement.screw && axisNeverFits(lie, middle, half)) return true;
  }
  return std::any_of(placement.others.begin(), placement.others.end(),
                     [&](const Obstacle& o) { return overlapAlways(there, o, half + rounding_mm); });
}

}  // namespace provecut::placing
