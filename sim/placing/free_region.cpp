#include "sim/placing/free_region.h"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>

#include "parser/job/outline_check.h"
#include "sim/placing/cell_marks.h"
#include "sim/placing/near_stretches.h"
#include "sim/placing/outline_trace.h"

namespace provecut::placing {

namespace {

// In a triangle of two corners and the middle of a cell of side 1, the mean distance from a point to the three of them,
// weighted by its barycentric coordinates, is at most this (its largest value, 0.5, is met in the middle of the long
// side).
constexpr double interpolation_error = 0.5;

using Ring = std::vector<SetupPoint2>;

struct Tile {
  CellSquare square;
  std::vector<Near> near;
};

// A cell in which nothing of the region was found, but which may hold a clear place.
struct Doubtful {
  int x = 0, y = 0;
  std::vector<Near> near;
};

struct TileResult {
  std::vector<Segment> outline;
  std::vector<Doubtful> doubtful;
};

// What is looked for, the same in every square.
struct Question {
  Footprint form;
  CellGrid grid;
  double level = 0;  // the outline runs where the interpolated distance has this value
  double cap = 0;    // distances above it need not be known
};

double halfDiagonal(const CellGrid& grid, int cells) {
  return cells * grid.cell_mm * std::numbers::sqrt2 / 2;
}

enum class State { dead, whole, open };

// Whether the square lies wholly out of the region, wholly in it, or must be looked into with the stretches in `kept`.
State lookAt(const Question& q, const CellSquare& s, const std::vector<Near>& of, std::vector<Near>& kept) {
  const Disc disc{q.grid.middle(s), halfDiagonal(q.grid, s.cells), q.cap};
  const double v = leastWithin(disc, q.form, of, kept);
  if (v < -disc.radius) return State::dead;
  return v >= disc.radius + q.level ? State::whole : State::open;
}

// The edges of a square that lie on the border of what is looked at belong to the outline.
void addBorder(const CellGrid& grid, const CellSquare& s, std::vector<Segment>& outline) {
  const int x1 = std::min(grid.nx, s.x + s.cells), y1 = std::min(grid.ny, s.y + s.cells);
  if (s.y == 0) outline.push_back({grid.node(s.x, 0), grid.node(x1, 0)});
  if (x1 == grid.nx) outline.push_back({grid.node(x1, s.y), grid.node(x1, y1)});
  if (y1 == grid.ny) outline.push_back({grid.node(x1, y1), grid.node(s.x, y1)});
  if (s.x == 0) outline.push_back({grid.node(0, y1), grid.node(0, s.y)});
}

std::array<CellSquare, 4> quartersOf(const CellSquare& s) {
  const int half = s.cells / 2;
  return {{{s.x, s.y, half}, {s.x + half, s.y, half}, {s.x, s.y + half, half}, {s.x + half, s.y + half, half}}};
}

// Marks what is wholly in; tiles that must be looked into are left to their own tasks.
void findTiles(const Question& q, const CellSquare& s, const std::vector<Near>& of, CellMarks& marks,
               std::vector<Tile>& open, std::vector<Segment>& outline) {
  if (q.grid.outside(s)) return;
  std::vector<Near> kept;
  const State state = lookAt(q, s, of, kept);
  if (state == State::dead) return;
  if (state == State::whole) {
    mark(s, marks);
    addBorder(q.grid, s, outline);
  } else if (s.cells == tile_cells) {
    open.push_back({s, std::move(kept)});
  } else {
    for (const CellSquare& quarter : quartersOf(s)) findTiles(q, quarter, kept, marks, open, outline);
  }
}

void traceCell(const Question& q, const CellSquare& s, const std::array<double, 4>& corner,
               const std::vector<Near>& near, CellMarks& marks, TileResult& out) {
  const CellGrid& grid = q.grid;
  const std::array<SetupPoint2, 4> at{grid.node(s.x, s.y), grid.node(s.x + 1, s.y), grid.node(s.x + 1, s.y + 1),
                                      grid.node(s.x, s.y + 1)};
  const SetupPoint2 centre = grid.middle(s);
  const double half = halfDiagonal(grid, 1);
  // Often the corners alone tell: the middle differs from each by no more than half a diagonal.
  const auto [low, high] = std::minmax_element(corner.begin(), corner.end());
  if (*high < q.level && *low + 2 * half < 0) return;
  const bool inside = *low >= q.level && *high - half >= q.level;
  const double middle = inside ? *high - half : valueAt(centre, q.form, near, halfDiagonal(grid, block_cells), q.cap);
  if (middle < q.level && *high < q.level) {
    if (middle + half >= 0) out.doubtful.push_back({s.x, s.y, near});
    return;
  }
  mark(s, marks);
  const std::array<bool, 4> on_border{s.y == 0, s.x + 1 == grid.nx, s.y + 1 == grid.ny, s.x == 0};
  for (int k = 0; k < 4; ++k) {
    const int n = (k + 1) % 4;
    const std::array<LevelPoint, 3> triangle{
        {{at[k], corner[k] - q.level}, {at[n], corner[n] - q.level}, {centre, middle - q.level}}};
    traceTriangle(triangle, out.outline);
    if (on_border[k]) traceEdge(triangle[0], triangle[1], out.outline);
  }
}

void traceBlock(const Question& q, const CellSquare& s, const std::vector<Near>& near, CellMarks& marks,
                TileResult& out) {
  constexpr int nodes_across = block_cells + 1;
  std::array<double, nodes_across * nodes_across> nodes;
  for (int y = 0; y < nodes_across; ++y) {
    for (int x = 0; x < nodes_across; ++x) {
      nodes[y * nodes_across + x] =
          valueAt(q.grid.node(s.x + x, s.y + y), q.form, near, halfDiagonal(q.grid, block_cells), q.cap);
    }
  }
  for (int y = 0; y < block_cells; ++y) {
    for (int x = 0; x < block_cells; ++x) {
      const auto at = [&](int i, int j) { return nodes[(y + j) * nodes_across + x + i]; };
      traceCell(q, {s.x + x, s.y + y, 1}, {at(0, 0), at(1, 0), at(1, 1), at(0, 1)}, near, marks, out);
    }
  }
}

void lookInto(const Question& q, const CellSquare& s, const std::vector<Near>& of, CellMarks& marks, TileResult& out) {
  if (q.grid.outside(s)) return;
  std::vector<Near> kept;
  const State state = lookAt(q, s, of, kept);
  if (state == State::dead) return;
  if (state == State::whole) {
    mark(s, marks);
    addBorder(q.grid, s, out.outline);
  } else if (s.cells > block_cells) {
    for (const CellSquare& quarter : quartersOf(s)) lookInto(q, quarter, kept, marks, out);
  } else {
    traceBlock(q, s, kept, marks, out);
  }
}

// A clear place in the square, as a small square of its own; nothing where there is none.
std::optional<Ring> clearPlace(const Question& q, SetupPoint2 centre, double side, const std::vector<Near>& of) {
  constexpr double least_clear = 0.001;
  const Disc disc{centre, side * std::numbers::sqrt2 / 2, q.cap};
  std::vector<Near> kept;
  const double v = leastWithin(disc, q.form, of, kept);
  if (v < -disc.radius) return std::nullopt;
  if (v > least_clear) {
    const double r = std::min({v, disc.radius, q.cap}) / std::numbers::sqrt2;
    return Ring{centre + Vec2{-r, -r}, centre + Vec2{r, -r}, centre + Vec2{r, r}, centre + Vec2{-r, r}};
  }
  if (side < 4 * least_clear) return std::nullopt;
  const double quarter = side / 4;
  for (const Vec2 to :
       {Vec2{-quarter, -quarter}, Vec2{quarter, -quarter}, Vec2{-quarter, quarter}, Vec2{quarter, quarter}}) {
    if (auto found = clearPlace(q, centre + to, side / 2, kept)) return found;
  }
  return std::nullopt;
}

// Whether a place near enough to the cell is in the region already.
bool markedAbout(const CellMarks& marks, const Doubtful& d) {
  for (int y = d.y - 1; y <= d.y + 1; ++y) {
    for (int x = d.x - 1; x <= d.x + 1; ++x) {
      if (marked(marks, x, y)) return true;
    }
  }
  return false;
}

}  // namespace

bool FreeRegion::contains(SetupPoint2 p) const {
  bool in = false;
  for (const Ring& ring : rings) {
    for (std::size_t i = 0, before = ring.size() - 1; i < ring.size(); before = i++) {
      const SetupPoint2 a = ring[before], b = ring[i];
      if ((a.y <= p.y) == (b.y <= p.y)) continue;
      if ((cross(b - a, p - a) > 0) == (b.y > a.y)) in = !in;
    }
  }
  return in;
}

FreeRegion freeRegion(std::span<const Stretch> stretches, const clearance::Obstacle& form, SetupPoint2 low,
                      SetupPoint2 high, double resolution) {
  FreeRegion region;
  region.low = low;
  region.high = high;
  region.resolution_mm = resolution;
  if (!(high.x > low.x && high.y > low.y)) return region;

  // A place in a cell and a place in one beside it are at most two diagonals apart; simplifying adds its own tolerance.
  const double simplified_by = resolution / 25;
  const CellGrid grid = gridOver(low, high, (resolution - simplified_by) / (2 * std::numbers::sqrt2));
  region.high = grid.node(grid.nx, grid.ny);
  const double level = interpolation_error * grid.cell_mm + simplified_by;
  const Question question{footprintOf(form), grid, level, level + 2 * grid.cell_mm};
  CellMarks marks = marksFor(grid);
  int cells = tile_cells;
  while (cells < std::max(grid.nx, grid.ny)) cells *= 2;
  std::vector<Tile> tiles;
  std::vector<Segment> outline;
  findTiles(question, {0, 0, cells}, allOf(stretches), marks, tiles, outline);

  std::vector<TileResult> results(tiles.size());
  tbb::parallel_for(std::size_t{0}, tiles.size(),
                    [&](std::size_t i) { lookInto(question, tiles[i].square, tiles[i].near, marks, results[i]); });
  std::vector<Ring> places;
  for (const TileResult& r : results) outline.insert(outline.end(), r.outline.begin(), r.outline.end());
  for (const TileResult& r : results) {
    for (const Doubtful& d : r.doubtful) {
      if (markedAbout(marks, d)) continue;
      if (auto place = clearPlace(question, grid.middle({d.x, d.y, 1}), grid.cell_mm, d.near))
        places.push_back(std::move(*place));
    }
  }
  for (Ring& ring : ringsOf(outline)) region.rings.push_back(simplified(ring, simplified_by));
  region.rings.insert(region.rings.end(), places.begin(), places.end());
  for (const Ring& ring : region.rings) region.area_mm2 += signedArea(ring);
  return region;
}

}  // namespace provecut::placing
