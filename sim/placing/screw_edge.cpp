#include "sim/placing/screw_edge.h"

#include <algorithm>
#include <cmath>

namespace provecut::placing {

Vec2 screwEdge(const Stock& stock, double shaft_diameter_mm, bool pilot) {
  const bool solid = stock.material == Material::softwood || stock.material == Material::hardwood;
  const bool board = stock.material == Material::mdf || stock.material == Material::board;
  const double share = shaft_diameter_mm * (pilot ? 0.5 : 1);
  if (stock.material_given && board) return {3 * share, 3 * share};
  if (stock.material_given && !solid) return {};
  return {(stock.grain == Grain::x ? 7 : 5) * share, (stock.grain == Grain::y ? 7 : 5) * share};
}

Vec2 screwEdgeIn(const Stock& stock, const Setup& setup, double shaft_diameter_mm) {
  const Vec2 edge = screwEdge(stock, shaft_diameter_mm, false);
  const bool sideways = setup.rotate_deg == 90 || setup.rotate_deg == 270;
  return sideways ? Vec2{edge.y, edge.x} : edge;
}

double roundEdge(Vec2 edge, Vec2 outwards) {
  const double away = length(outwards);
  // Amid the disc all edges are as near.
  if (away <= 0) return std::max(edge.x, edge.y);
  return std::hypot(edge.x * outwards.x, edge.y * outwards.y) / away;
}

}  // namespace provecut::placing
