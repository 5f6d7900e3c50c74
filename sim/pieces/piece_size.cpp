#include "sim/pieces/piece_size.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <optional>
#include <vector>

namespace provecut::pieces {

namespace {

using cutting::Cell;

// A slanting wall crosses so many dexels of a row at most, else it is not read there.
constexpr int most_crossed = 8;
// What is lower beside the piece than this share of it shows a wall.
constexpr double lower_share = 0.8;
// What is as high as this beside it is the piece itself.
constexpr double whole_piece_share = 0.95;
// Three places of a wall in a row count as straight where they are off a line by no more than this, in cells, or by no
// more than this share of their slope: of a circle that is a half.
constexpr double straight_cells = 0.03, straight_share = 0.2;
constexpr double least_slope = 0.05;  // of a wall that runs out to a corner
// Of a dexel so little may stay of a wall that ends before it; more is another wall.
constexpr double rounding = 0.05;
// The wall of a piece lies in its outermost dexels or in those beside them.
constexpr double most_off_cells = 1.25;
// So near a tab the round bit leaves a cusp between it and the wall, which the mean heights take for wall.
constexpr double cusp_mm = 2;

// One of the four sides: the lines of dexels that run out to it, and how to step along them.
struct BoxSide {
  const cutting::DexelField& field;
  bool along_x = true;  // lines are rows
  bool high = true;     // it is the right or the back one

  int lines() const { return along_x ? field.ny : field.nx; }
  int count() const { return along_x ? field.nx : field.ny; }
  double cell_mm() const { return along_x ? field.cell_x_mm : field.cell_y_mm; }
  int line(Cell c) const { return along_x ? field.place(c).y : field.place(c).x; }
  // Steps from the opposite side of the stock.
  int step(Cell c) const {
    const int k = along_x ? field.place(c).x : field.place(c).y;
    return high ? k : count() - 1 - k;
  }
  Cell at(int line, int step) const {
    const int k = high ? step : count() - 1 - step;
    return along_x ? field.index(k, line) : field.index(line, k);
  }
};

// How much of a dexel is as high as the piece and not as low as what lies beside it.
double share(const cutting::DexelField& f, Cell c, double high, double low) {
  return std::clamp((double{f.meanThickness(c)} - low) / (high - low), 0.0, 1.0);
}

// Is there a web beside the wall in a line near this one: neither as high as the piece nor as low as what lies there?
bool besideWeb(const BoxSide& side, int line, int last, double high, double low) {
  const double line_mm = side.along_x ? side.field.cell_y_mm : side.field.cell_x_mm;
  const int reach = static_cast<int>(std::ceil(cusp_mm / line_mm));
  for (int n = std::max(0, line - reach); n <= std::min(side.lines() - 1, line + reach); ++n) {
    const double there = double{side.field.thickness(side.at(n, last + 1))};
    if (there > low + double{cutting::no_material_mm} && there < whole_piece_share * high) return true;
  }
  return false;
}

// Where the wall is in a line, in cells from the opposite side of the stock; none: there is no wall to be seen.
std::optional<double> wallIn(const BoxSide& side, int line, int last) {
  const cutting::DexelField& f = side.field;
  if (last + 1 >= side.count()) return side.count();
  const Cell edge = side.at(line, last), beside = side.at(line, last + 1);
  if (f.undercut.holds(edge) || f.undercut.holds(beside) || f.thickness(edge) <= cutting::no_material_mm)
    return std::nullopt;
  const double low = std::max(0.0, double{f.thickness(beside)});
  const double high_edge = double{f.thickness(edge)};
  if (low > lower_share * high_edge || besideWeb(side, line, last, high_edge, low)) return std::nullopt;
  int first = last;
  double wood = 0;
  for (; first >= 0; --first) {
    if (last - first >= most_crossed) return std::nullopt;
    const Cell c = side.at(line, first);
    const double high = double{f.thickness(c)};
    const double part = high > low ? share(f, c, high, low) : 1;
    wood += part;
    if (part > 0.999) break;
  }
  double before = 1;
  for (int k = last + 1; k < side.count(); ++k) {
    if (k > last + most_crossed) return std::nullopt;
    const Cell c = side.at(line, k);
    if (double{f.thickness(c)} > low + double{cutting::no_material_mm}) break;
    const double part = share(f, c, high_edge, low);
    if (part > before + rounding) break;  // the other wall of the kerf
    wood += part;
    before = part;
    if (part < 0.001) break;
  }
  if (before > rounding && before < 1) return std::nullopt;  // no wall: a tab begins here
  return std::max(first, 0) + wood;
}

// Where a wall that runs on straight from the three lines from `line` on, away from the middle one, comes to it.
struct Line {
  double at = 0, slope = 0;  // at the line next to the middle, and per line away from it
};

std::optional<Line> straightFrom(const std::vector<std::optional<double>>& walls, int line, int away) {
  const auto of = [&](int k) -> std::optional<double> {
    const int n = line + k * away;
    return n >= 0 && n < static_cast<int>(walls.size()) ? walls[static_cast<std::size_t>(n)] : std::nullopt;
  };
  const auto a = of(1), b = of(2), c = of(3);
  if (!a || !b || !c) return std::nullopt;
  const double slope = (*a - *c) / 2;
  if (slope < least_slope || std::abs(*a - 2 * *b + *c) > std::max(straight_cells, straight_share * slope))
    return std::nullopt;
  return Line{*a, slope};
}

// The outermost place of a side: at a corner, where the walls that meet there do.
std::optional<double> outermost(const std::vector<std::optional<double>>& walls) {
  int best = -1;
  for (int k = 0; k < static_cast<int>(walls.size()); ++k) {
    if (walls[static_cast<std::size_t>(k)] &&
        (best < 0 || *walls[static_cast<std::size_t>(k)] > *walls[static_cast<std::size_t>(best)]))
      best = k;
  }
  if (best < 0) return std::nullopt;
  const double place = *walls[static_cast<std::size_t>(best)];
  const auto before = straightFrom(walls, best, -1), after = straightFrom(walls, best, 1);
  if (!before || !after) return place;
  // Lines from one before and from one after it meet at `t` lines behind the middle.
  const double t = (before->at - after->at + before->slope - after->slope) / (before->slope + after->slope);
  if (std::abs(t) > 1) return place;
  const double corner = before->at + before->slope - before->slope * t;
  return std::clamp(corner, place, place + std::max(before->slope, after->slope));
}

std::optional<double> placeOf_mm(const BoxSide& side, std::span<const Cell> cells) {
  std::vector<int> last(static_cast<std::size_t>(side.lines()), -1);
  for (const Cell c : cells) {
    int& of_line = last[static_cast<std::size_t>(side.line(c))];
    of_line = std::max(of_line, side.step(c));
  }
  std::vector<std::optional<double>> walls(last.size());
  for (std::size_t k = 0; k < last.size(); ++k) {
    if (last[k] >= 0) walls[k] = wallIn(side, static_cast<int>(k), last[k]);
  }
  const auto place = outermost(walls);
  if (!place) return std::nullopt;
  return (side.high ? *place : side.count() - *place) * side.cell_mm();
}

}  // namespace

SetupBox exactBox(const cutting::DexelField& f, std::span<const Cell> cells, const SetupBox& box) {
  SetupBox exact = box;
  const auto put = [&](bool along_x, bool high, double& place) {
    const BoxSide side{f, along_x, high};
    const std::optional<double> wall = placeOf_mm(side, cells);
    // Farther off it is no upright wall: the flank of a vee, or a cusp between drilled holes.
    if (wall && std::abs(*wall - place) <= most_off_cells * side.cell_mm()) place = *wall;
  };
  put(true, false, exact.low.x);
  put(true, true, exact.high.x);
  put(false, false, exact.low.y);
  put(false, true, exact.high.y);
  return exact;
}

}  // namespace provecut::pieces
