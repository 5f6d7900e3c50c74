#include "sim/path/stock_plan.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "sim/path/setup_frame.h"

namespace provecut {

namespace {

// Area of the disc left of x and below y.
double discCorner_mm2(double r, double x, double y) {
  x = std::clamp(x, -r, r);
  y = std::clamp(y, -r, r);
  // Below the circle's upper half the height of the disc under y is cut off at y.
  const auto half = [&](double t) {
    return (t * std::sqrt(std::max(0.0, r * r - t * t)) + r * r * std::asin(t / r)) / 2;
  };
  const double turn = std::sqrt(r * r - y * y);  // the circle crosses y at x = ± turn
  const double a = std::clamp(x, -r, -turn), b = std::clamp(x, -turn, turn), c = std::clamp(x, turn, r);
  const double beside = half(a) - half(-r) + half(c) - half(turn), above = half(b) - half(-turn);
  return (y > 0 ? 2 * beside : 0) + above + y * (b + turn);
}

}  // namespace

StockPlan stockPlan(const Stock& stock, const Setup& setup) {
  return {flat(stockSizeInSetup(stock, setup)), stock.shape == StockShape::round};
}

double beyondEdge_mm(const StockPlan& plan, SetupPoint2 p) {
  if (plan.round) return length(p - plan.middle()) - plan.radius_mm();
  const double dx = std::max(-p.x, p.x - plan.size_mm.x), dy = std::max(-p.y, p.y - plan.size_mm.y);
  return dx <= 0 || dy <= 0 ? std::max(dx, dy) : std::hypot(dx, dy);
}

double area_mm2(const StockPlan& plan) {
  const double box = plan.size_mm.x * plan.size_mm.y;
  return plan.round ? box * std::numbers::pi / 4 : box;
}

double discArea_mm2(double r, Vec2 low, Vec2 high) {
  const auto corner = [&](double x, double y) { return discCorner_mm2(r, x, y); };
  return corner(high.x, high.y) - corner(low.x, high.y) - corner(high.x, low.y) + corner(low.x, low.y);
}

}  // namespace provecut
