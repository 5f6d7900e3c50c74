#include "tests/reference/parting/strokes.h"

#include <algorithm>
#include <cmath>

#include "tests/reference/parting/arc.h"

namespace provecut::reference {
namespace {

constexpr double kSagitta_mm = 0.002;

// The points of a move in its setup frame: arcs as chords that leave the arc by at most the sagitta.
std::vector<SheetPoint> pointsOf(const SheetMove& move) {
  if (move.kind == MoveKind::rapid || move.kind == MoveKind::feed) return {move.from, move.to};
  const double r0 = std::hypot(move.from.x - move.centre_x, move.from.y - move.centre_y);
  const double r1 = std::hypot(move.to.x - move.centre_x, move.to.y - move.centre_y);
  const double start = std::atan2(move.from.y - move.centre_y, move.from.x - move.centre_x);
  const double turn = arcTurn(move.from.x, move.from.y, move.to.x, move.to.y, move.centre_x, move.centre_y,
                              move.kind == MoveKind::arc_cw);
  const double chord = 2 * std::acos(1 - std::min(0.3, kSagitta_mm / std::max(r0, r1)));
  const int chords = std::max(1, static_cast<int>(std::ceil(std::abs(turn) / chord)));
  std::vector<SheetPoint> points{move.from};
  for (int k = 1; k < chords; ++k) {
    const double part = static_cast<double>(k) / chords;
    const double r = r0 + (r1 - r0) * part;
    const double angle = start + turn * part;
    points.push_back({move.centre_x + r * std::cos(angle), move.centre_y + r * std::sin(angle),
                      move.from.z + (move.to.z - move.from.z) * part});
  }
  points.push_back(move.to);
  return points;
}

}  // namespace

SheetPoint inStockPlan(const Sheet& sheet, Face face, SheetPoint p) {
  if (face == Face::turned_front_back) p.y = sheet.size_y - p.y;
  if (face == Face::turned_left_right) p.x = sheet.size_x - p.x;
  return p;
}

std::vector<Stroke> strokesOf(const Sheet& sheet, Face face, const SheetMove& move) {
  std::vector<Stroke> strokes;
  const std::vector<SheetPoint> points = pointsOf(move);
  for (std::size_t k = 0; k + 1 < points.size(); ++k) {
    strokes.push_back(strokeOf(inStockPlan(sheet, face, points[k]), inStockPlan(sheet, face, points[k + 1])));
  }
  return strokes;
}

}  // namespace provecut::reference
