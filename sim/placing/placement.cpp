#include "sim/placing/placement.h"

#include <algorithm>
#include <array>

#include "sim/placing/screw_edge.h"

namespace provecut::placing {

namespace {

using clearance::Obstacle;
using clearance::OnStock;

constexpr double least_grip_mm = 5;  // of a clamp over the edge; common practice, no source
constexpr double rounding_mm = 1e-9;

// How far it reaches over the stock's edge; of an outline on a rectangle, its box.
double grip(const StockPlan& stock, const Obstacle& o) {
  if (stock.round) return stock.radius_mm() - clearance::distance(o, stock.middle());
  return std::min({o.high.x, o.high.y, stock.size_mm.x - o.low.x, stock.size_mm.y - o.low.y});
}

// Of a screw's axis in the stock: its distance from each edge, and what that edge asks for. A disc has one edge.
struct FromEdge {
  double mm = 0, wanted_mm = 0;
};

std::array<FromEdge, 2> fromEdges(const LieToStock& lie, SetupPoint2 p) {
  if (lie.stock.round) {
    const FromEdge rim{-beyondEdge_mm(lie.stock, p), roundEdge(lie.edge_mm, p - lie.stock.middle())};
    return {rim, rim};
  }
  const Vec2 size = lie.stock.size_mm;
  return {{{std::min(p.x, size.x - p.x), lie.edge_mm.x}, {std::min(p.y, size.y - p.y), lie.edge_mm.y}}};
}

bool axisFits(const LieToStock& lie, SetupPoint2 at) {
  if (!lie.axis_on_stock) return beyondEdge_mm(lie.stock, at) > 0;
  const auto edges = fromEdges(lie, at);
  return std::all_of(edges.begin(), edges.end(), [](const FromEdge& e) { return e.mm >= e.wanted_mm - rounding_mm; });
}

// Whether axisFits() nowhere at most `half` away.
bool axisNeverFits(const LieToStock& lie, SetupPoint2 at, double half) {
  if (!lie.axis_on_stock) return beyondEdge_mm(lie.stock, at) < -half;
  if (lie.stock.round)
    return -beyondEdge_mm(lie.stock, at) < std::min(lie.edge_mm.x, lie.edge_mm.y) - half - rounding_mm;
  const auto edges = fromEdges(lie, at);
  return std::any_of(edges.begin(), edges.end(),
                     [&](const FromEdge& e) { return e.mm < e.wanted_mm - half - rounding_mm; });
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
  const StockPlan& stock = lie.stock;
  const auto within = [&](double more) { return clearance::reachBeyond_mm(stock, there) <= more; };
  switch (lie.lies) {
    case OnStock::on:
      return !within(half);
    case OnStock::beside:
      return within(-half) || overlapAlways(there, clearance::stockOutline(stock, 0), half + rounding_mm);
    case OnStock::across:
      return within(-half) || grip(stock, there) < lie.grip_mm - half - rounding_mm;
  }
  return false;
}

}  // namespace

LieToStock lieAsAt(const Job& job, const Setup& setup, const HoldDown& hold_down) {
  LieToStock lie;
  lie.stock = stockPlan(job.stock, setup);
  const Obstacle home = clearance::obstacle(hold_down, job.stock.size_mm.z);
  lie.lies = clearance::lieOn(lie.stock, home);
  lie.grip_mm = std::min(least_grip_mm, grip(lie.stock, home));
  lie.axis_on_stock = beyondEdge_mm(lie.stock, hold_down.at_mm) <= 0;
  lie.edge_mm = screwEdgeIn(job.stock, setup, hold_down.shaft_diameter_mm);
  return lie;
}

LieToStock edgeAsAt(LieToStock lie, SetupPoint2 home) {
  double share = 1;
  for (const FromEdge& e : fromEdges(lie, home)) {
    if (e.wanted_mm > 0) share = std::min(share, e.mm / e.wanted_mm);
  }
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
