#include "sim/stock/cut_kernel.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

namespace provecut::cutting {

namespace {

constexpr int lanes = DexelField::lanes;
using F8 = float __attribute__((vector_size(32)));
using I8 = std::int32_t __attribute__((vector_size(32)));
#define PROVECUT_INLINE inline __attribute__((always_inline))

// Dexels nearer to the rim than this are cut, but say nothing of depth: two passes along one wall differ there by
// rounding alone.
constexpr float rim_guard_mm = 0.02F;

PROVECUT_INLINE F8 all(float v) {
  return F8{v, v, v, v, v, v, v, v};
}
PROVECUT_INLINE F8 lower(F8 a, F8 b) {
  return a < b ? a : b;
}
PROVECUT_INLINE F8 higher(F8 a, F8 b) {
  return a > b ? a : b;
}
PROVECUT_INLINE F8 root(F8 v) {
  F8 r;
  for (int k = 0; k < lanes; ++k) r[k] = __builtin_sqrtf(v[k]);
  return r;
}
PROVECUT_INLINE F8 load(const float* p) {
  F8 v;
  __builtin_memcpy(&v, p, sizeof v);
  return v;
}
PROVECUT_INLINE void store(float* p, F8 v) {
  __builtin_memcpy(p, &v, sizeof v);
}

struct Path {  // a sweep made ready for the lanes
  float ax, ay, tip;
  float ux, uy, length;
  float slope;  // rise of the tip per mm of plan length
};

// surface(): height above the tip at the squared distance d2 from the axis.
// lead(): how far ahead of the axis (against the climb) the lowest contact lies, for a dexel at the squared distance
// q2 from the path; `half` is half the chord that the tool covers there.
struct Flat {
  PROVECUT_INLINE F8 surface(F8) const { return all(0); }
  PROVECUT_INLINE F8 lead(F8, F8 half, float slope) const { return slope > 0 ? half : -half; }
};

struct Ball {
  float r;
  PROVECUT_INLINE F8 surface(F8 d2) const { return all(r) - root(higher(all(r * r) - d2, all(0))); }
  PROVECUT_INLINE F8 lead(F8, F8 half, float slope) const { return half * (slope / std::sqrt(1 + slope * slope)); }
};

struct Cone {
  float flat, rise;
  PROVECUT_INLINE F8 surface(F8 d2) const { return all(rise) * higher(root(d2) - all(flat), all(0)); }
  PROVECUT_INLINE F8 lead(F8 q2, F8 half, float slope) const {
    const float m = std::abs(slope);
    F8 u = half;
    if (m < rise) {
      const F8 on_cone = root(q2) * (m / std::sqrt(rise * rise - m * m));
      const F8 at_flat = root(higher(all(flat * flat) - q2, all(0)));
      u = lower(higher(on_cone, at_flat), half);
    }
    return slope > 0 ? u : -u;
  }
};

// Minimises surface(sqrt(q2 + u^2)) - |slope| u over 0 <= u <= half for any convex surface, by the sign of its growth.
template <class Shape>
PROVECUT_INLINE F8 leadByBisection(const Shape& shape, F8 q2, F8 half, float slope) {
  const float m = std::abs(slope);
  F8 low = all(0), high = half;
  for (int step = 0; step < 14; ++step) {
    const F8 u = (low + high) * 0.5F, v = u + (high - low) * 1e-2F;
    const I8 falls = shape.surface(q2 + v * v) - shape.surface(q2 + u * u) < m * (v - u);
    low = falls ? u : low;
    high = falls ? high : v;
  }
  const F8 u = (low + high) * 0.5F;
  return slope > 0 ? u : -u;
}

struct Bull {
  float flat, r;
  PROVECUT_INLINE F8 surface(F8 d2) const {
    const F8 d = higher(root(d2) - all(flat), all(0));
    return all(r) - root(higher(all(r * r) - d * d, all(0)));
  }
  PROVECUT_INLINE F8 lead(F8 q2, F8 half, float slope) const { return leadByBisection(*this, q2, half, slope); }
};

struct Profile {
  const float* table;
  float steps_per_mm;
  PROVECUT_INLINE F8 surface(F8 d2) const {
    const F8 d = root(d2) * steps_per_mm;
    F8 z;
    for (int k = 0; k < lanes; ++k) {
      const float at = std::min(d[k], static_cast<float>(profile_steps - 1));
      const int i = std::min(static_cast<int>(at), profile_steps - 2);
      z[k] = table[i] + (table[i + 1] - table[i]) * (at - static_cast<float>(i));
    }
    return z;
  }
  PROVECUT_INLINE F8 lead(F8 q2, F8 half, float slope) const { return leadByBisection(*this, q2, half, slope); }
};

struct Span {
  int begin, end;
};

constexpr int rows_at_once = 128;

// x range, from the sweep's start on, of the stadium of `radius` about a sweep, for successive rows; low > high where
// the stadium does not reach.
struct Stadium {
  alignas(32) std::array<float, rows_at_once> low, high;
};

// The thread sanitizer cannot watch the choice between clones: it falls before the sanitizer itself is loaded.
#ifdef __SANITIZE_THREAD__
#define PROVECUT_CLONES
#else
#define PROVECUT_CLONES __attribute__((target_clones("avx2", "default")))
#endif

// `y` is the first row's centre, seen from the sweep's start; (dx, dy) the sweep.
PROVECUT_CLONES void stadiumRows(float dx, float dy, float radius, float y, float row_height, int rows, Stadium& out) {
  const float r2 = radius * radius, far = 1e30F;
  const float long2 = dx * dx + dy * dy;
  const float k = long2 > 0 ? radius / std::sqrt(long2) : 0;
  const float rise = dy != 0 ? 1 / dy : 0;
  const bool slanted = dy != 0;
  for (int i = 0; i < rows; ++i) {
    const float at = y + row_height * static_cast<float>(i);
    const float under_a = r2 - at * at, under_b = r2 - (at - dy) * (at - dy);
    const float a = under_a >= 0 ? __builtin_sqrtf(under_a) : -far, b = under_b >= 0 ? __builtin_sqrtf(under_b) : -far;
    float low = -a < dx - b ? -a : dx - b, high = a > dx + b ? a : dx + b;
    // The two straight sides.
    const float t0 = (at - k * dx) * rise, t1 = (at + k * dx) * rise;
    const float x0 = -k * dy + t0 * dx, x1 = k * dy + t1 * dx;
    const bool on0 = slanted & (t0 >= 0) & (t0 <= 1), on1 = slanted & (t1 >= 0) & (t1 <= 1);
    low = on0 & (x0 < low) ? x0 : low;
    low = on1 & (x1 < low) ? x1 : low;
    high = on0 & (x0 > high) ? x0 : high;
    high = on1 & (x1 > high) ? x1 : high;
    out.low[i] = low;
    out.high[i] = high;
  }
}

// Rounding of the above, generously.
constexpr double span_slack_mm = 2e-3;

// Cells whose centres lie in the stadium's row, made wider by `slack_mm` to both sides.
Span cellsIn(const DexelField& f, double start_x, const Stadium& s, int i, double slack_mm) {
  if (!(s.low[i] <= s.high[i])) return {0, 0};
  const double from = (start_x + s.low[i] - slack_mm) / f.cell_x_mm - 0.5;
  const double to = (start_x + s.high[i] + slack_mm) / f.cell_x_mm - 0.5;
  const double cells = f.nx;
  return {static_cast<int>(std::clamp(std::ceil(from), 0.0, cells)),
          static_cast<int>(std::clamp(std::floor(to) + 1, 0.0, cells))};
}

// Those that may lie in it; never too few.
Span cellsIn(const DexelField& f, double start_x, const Stadium& s, int i) {
  return cellsIn(f, start_x, s, i, span_slack_mm);
}

// Those that surely lie in it; never too many.
Span cellsSurelyIn(const DexelField& f, double start_x, const Stadium& s, int i) {
  return cellsIn(f, start_x, s, i, -span_slack_mm);
}

struct Row {
  float* top;
  const float* floor;
  float* mean;
  float y;
  float cell_x;
};

struct LaneSums {
  F8 removed = all(0), axial = all(0), bite = all(0);
};

template <bool sloping, class Shape>
PROVECUT_INLINE void cutLanes(const Row& row, const Shape& shape, const Path& path, float radius2, float guard2,
                              float inner2, int begin, int end, LaneSums& sums) {
  const F8 ramp = {0.5F, 1.5F, 2.5F, 3.5F, 4.5F, 5.5F, 6.5F, 7.5F};
  const F8 py = all(row.y - path.ay);
  for (int i = begin; i < end; i += lanes) {
    const F8 px = (all(static_cast<float>(i)) + ramp) * row.cell_x - path.ax;
    const F8 along = px * path.ux + py * path.uy;
    F8 s, d2, tip;
    F8 near2;  // squared distance to the nearest point of the path in plan
    I8 covered;
    if constexpr (sloping) {
      const F8 q = px * path.uy - py * path.ux, q2 = q * q;
      const F8 half = root(higher(all(radius2) - q2, all(0)));
      s = lower(higher(along - shape.lead(q2, half, path.slope), all(0)), all(path.length));
      const F8 u = along - s;
      d2 = q2 + u * u;
      tip = path.tip + s * path.slope;
      // The slope has no say in how far to the side the tool gets.
      const F8 beside = along - lower(higher(along, all(0)), all(path.length));
      near2 = q2 + beside * beside;
      covered = near2 <= radius2;
    } else {
      s = lower(higher(along, all(0)), all(path.length));
      const F8 dx = px - s * path.ux, dy = py - s * path.uy;
      d2 = dx * dx + dy * dy;
      near2 = d2;
      covered = d2 <= radius2;
      tip = all(path.tip);
    }
    const F8 top = load(row.top + i), floor = load(row.floor + i), mean = load(row.mean + i);
    const F8 surface = higher(tip + shape.surface(d2), floor);
    const F8 depth = covered ? top - surface : all(0);
    store(row.top + i, depth > 0.0F ? surface : top);
    const F8 new_mean = (covered & (near2 <= inner2)) ? lower(mean, surface) : mean;
    store(row.mean + i, new_mean);
    sums.removed += mean - new_mean;
    const F8 bite = near2 <= guard2 ? depth : all(0);
    sums.bite = higher(sums.bite, bite);
    sums.axial = higher(sums.axial, bite > least_depth_mm ? top - higher(tip, floor) : all(0));
  }
}

PROVECUT_INLINE float sum(F8 v) {
  return ((v[0] + v[1]) + (v[2] + v[3])) + ((v[4] + v[5]) + (v[6] + v[7]));
}
PROVECUT_INLINE float maxOf(F8 v) {
  float max = v[0];
  for (int k = 1; k < lanes; ++k) max = std::max(max, v[k]);
  return max;
}

struct Job8 {  // all that the lanes need for one sweep
  Path path;
  float radius2, guard2, inner2;
  std::array<float*, 2> heights;  // top, mean
  const float* floor;
  float cell_x, cell_y;
  int stride;
};

template <bool sloping, class Shape>
PROVECUT_INLINE void cutSpans(const Job8& job, const Shape& shape, const Span* spans, int row_begin, int row_end,
                              SweepCut& cut) {
  LaneSums sums;
  for (int y = row_begin; y < row_end; ++y) {
    const Span span = spans[y - row_begin];
    if (span.begin >= span.end) continue;
    const int offset = y * job.stride;
    const Row row{job.heights[0] + offset, job.floor + offset, job.heights[1] + offset,
                  (static_cast<float>(y) + 0.5F) * job.cell_y, job.cell_x};
    const int begin = span.begin / lanes * lanes, end = (span.end + lanes - 1) / lanes * lanes;
    cutLanes<sloping>(row, shape, job.path, job.radius2, job.guard2, job.inner2, begin, end, sums);
    if (end - begin > 8 * lanes) {  // long rows: keep single precision from losing small cuts
      cut.removed_mm += sum(sums.removed);
      sums.removed = all(0);
    }
  }
  cut.removed_mm += sum(sums.removed);
  cut.axial_depth_mm = std::max(cut.axial_depth_mm, maxOf(sums.axial));
  cut.bite_mm = std::max(cut.bite_mm, maxOf(sums.bite));
}

PROVECUT_CLONES void cutFlat(const Job8& j, const Flat& s, const Span* spans, int a, int b, SweepCut& cut) {
  j.path.slope == 0 ? cutSpans<false>(j, s, spans, a, b, cut) : cutSpans<true>(j, s, spans, a, b, cut);
}
PROVECUT_CLONES void cutBall(const Job8& j, const Ball& s, const Span* spans, int a, int b, SweepCut& cut) {
  j.path.slope == 0 ? cutSpans<false>(j, s, spans, a, b, cut) : cutSpans<true>(j, s, spans, a, b, cut);
}
PROVECUT_CLONES void cutCone(const Job8& j, const Cone& s, const Span* spans, int a, int b, SweepCut& cut) {
  j.path.slope == 0 ? cutSpans<false>(j, s, spans, a, b, cut) : cutSpans<true>(j, s, spans, a, b, cut);
}
PROVECUT_CLONES void cutBull(const Job8& j, const Bull& s, const Span* spans, int a, int b, SweepCut& cut) {
  j.path.slope == 0 ? cutSpans<false>(j, s, spans, a, b, cut) : cutSpans<true>(j, s, spans, a, b, cut);
}
PROVECUT_CLONES void cutProfile(const Job8& j, const Profile& s, const Span* spans, int a, int b, SweepCut& cut) {
  j.path.slope == 0 ? cutSpans<false>(j, s, spans, a, b, cut) : cutSpans<true>(j, s, spans, a, b, cut);
}

Path makePath(const Sweep& s) {
  const double dx = s.bx - s.ax, dy = s.by - s.ay, length = std::sqrt(dx * dx + dy * dy);
  Path p{};
  p.ax = static_cast<float>(s.ax);
  p.ay = static_cast<float>(s.ay);
  if (length < 1e-9) {  // straight down or up: the lowest tip counts
    p.tip = std::min(s.a_tip, s.b_tip);
    p.ux = 1;
    return p;
  }
  p.tip = s.a_tip;
  p.ux = static_cast<float>(dx / length);
  p.uy = static_cast<float>(dy / length);
  p.length = static_cast<float>(length);
  p.slope = static_cast<float>((double{s.b_tip} - s.a_tip) / length);
  return p;
}

float square(float v) {
  return v * v;
}

// The nearest point of the path to a cell's centre.
struct Nearest {
  float dx, dy, distance, tip;
  float along;  // of that point on the path, from its start
  bool at_end;  // the nearest point is one of the path's ends: the rim there is round
};

Nearest nearest(const Path& p, float x, float y) {
  const float px = x - p.ax, py = y - p.ay;
  const float s = std::clamp(px * p.ux + py * p.uy, 0.0F, p.length);
  const float dx = px - s * p.ux, dy = py - s * p.uy;
  return {dx, dy, std::sqrt(dx * dx + dy * dy), p.tip + s * p.slope, s, s <= 0 || s >= p.length};
}

// Share of a cell's area on the inner side of a straight edge `inside` mm beyond its centre, the edge's normal turned
// so that the cell is `a` and `b` mm wide along it by its two sides: two boxes folded together, so a slope, two bends.
float shareInside(float inside, float a, float b) {
  if (a < b) std::swap(a, b);
  const float reach = (a + b) / 2;
  if (inside >= reach) return 1;
  if (inside <= -reach) return 0;
  const float flat = (a - b) / 2;
  if (std::abs(inside) <= flat) return 0.5F + inside / a;
  const float rest = reach - std::abs(inside), corner = rest * rest / (2 * a * b);
  return inside > 0 ? 1 - corner : corner;
}

struct Slice {
  float taken;     // off the cell's mean height, mm
  float share;     // of the cell within the rim
  float high;      // top of the wall
  float surface;   // where the tool is there
  float above_mm;  // of the wall's top above the tip
  bool at_start;   // within a diameter of it: the sweep before, about a corner, may just have cut a part of the cell
  bool centre_stands;
};

// A pass along the same wall as the one before, only deeper, takes of a cell at the rim just what it takes of the floor
// beside it; what it takes more is a slice off the wall. `nx`, `ny` point away from the axis. Where the floor beside is
// another band's, or where sweeps follow each other closely, only that a wall may have been cut is noted.
void noteWall(const DexelField& f, const Slice& slice, float nx, float ny, int x, int row, int row_begin, int row_end,
              SweepCut& cut) {
  const float cell = static_cast<float>(std::min(f.cell_x_mm, f.cell_y_mm));
  const float least = rim_guard_mm * (slice.high - slice.surface);
  if (slice.above_mm <= cut.wall_mm || slice.taken * cell <= least) return;
  if (slice.at_start) {
    cut.doubtful_wall_mm = std::max(cut.doubtful_wall_mm, slice.above_mm);
    return;
  }
  float level = f.top[f.index(x, row)];
  if (slice.centre_stands) {  // the floor begins in the cell further in
    const int ix = static_cast<int>(std::floor(static_cast<float>(x) + 0.5F - nx));
    const int iy = static_cast<int>(std::floor(static_cast<float>(row) + 0.5F - ny));
    if (iy < row_begin || iy >= row_end || !f.inside(ix, iy)) {
      cut.doubtful_wall_mm = std::max(cut.doubtful_wall_mm, slice.above_mm);
      return;
    }
    level = f.top[f.index(ix, iy)];
  }
  const float deepened = slice.share * std::max(0.0F, level - slice.surface);
  if ((slice.taken - deepened) * cell > least) cut.wall_mm = slice.above_mm;
}

// Mean heights of the cells that the tool's rim crosses: the part of the cell within the rim is cut. Beyond it stands
// the neighbour across the rim or, where the cell's own centre is outside, the cell itself. `surface_from` is the
// lowest that the tool can be there.
double cutRim(DexelField& f, const CutterShape& shape, const Path& path, float surface_from, Span outer, Span inner,
              int row, int row_begin, int row_end, SweepCut& cut) {
  const float cx = static_cast<float>(f.cell_x_mm), cy = static_cast<float>(f.cell_y_mm);
  const float y = static_cast<float>(f.centreY(row));
  double removed = 0;
  for (int x = outer.begin; x < outer.end; ++x) {
    if (x >= inner.begin && x < inner.end) {
      x = inner.end - 1;
      continue;
    }
    const Cell c = f.index(x, row);
    const float before = f.top_mean[c];
    if (before <= surface_from || before <= f.floor[c]) continue;
    const Nearest n = nearest(path, (static_cast<float>(x) + 0.5F) * cx, y);
    const float surface = std::max(n.tip + shape.surface(std::min(n.distance, shape.radius)), f.floor[c]);
    if (surface >= before || n.distance == 0) continue;
    const float nx = n.dx / n.distance, ny = n.dy / n.distance;
    // A round rim falls away from its tangent: on average over the cell by half the variance of the way along it over
    // R.
    const float bulge = n.at_end ? (square(cx * ny) + square(cy * nx)) / (24 * shape.radius) : 0;
    const float share = shareInside(shape.radius - bulge - n.distance, std::abs(nx) * cx, std::abs(ny) * cy);
    if (share <= 0) continue;
    float after = surface, beyond = f.top[c];
    // On a round rim less than half of the cell may be within it, and its centre too.
    const bool centre_stands = n.distance > shape.radius;
    if (centre_stands) {
      // The centre stands: were it cut already at least as deep, nothing says which part of the cell is left.
      after = f.top[c] > surface ? share * surface + (1 - share) * f.top[c] : before;
    } else if (share < 1) {
      const bool sideways = std::abs(nx) >= std::abs(ny);
      const int wx = sideways ? x + (nx > 0 ? 1 : -1) : x, wy = sideways ? row : row + (ny > 0 ? 1 : -1);
      const bool known = f.inside(wx, wy) && wy >= row_begin && wy < row_end;
      if (known) beyond = std::max(beyond, f.top[f.index(wx, wy)]);
      // Where nothing stands beyond, a film may yet stand between the two centres.
      const bool stands = known && f.top[f.index(wx, wy)] > surface;
      after = stands ? share * surface + (1 - share) * f.top[f.index(wx, wy)]
                     : std::max(surface, before - share * std::max(0.0F, f.top[c] - surface));
    }
    if (after < before) {
      const float high = std::max(before, beyond);
      const bool at_start = n.along < 2 * shape.radius;
      const Slice slice{before - after, share,        high, surface, high - std::max(n.tip, f.floor[c]),
                        at_start,       centre_stands};
      noteWall(f, slice, nx, ny, x, row, row_begin, row_end, cut);
      f.top_mean[c] = after;
      removed += before - after;
    }
  }
  return removed;
}

// The deepest point of a pointed or round tool falls between the cells' centres: the cells under its axis are given the
// tip's own height, so that floors are exact there. A `narrow` cut can miss every centre: then this is all that cuts.
void cutUnderAxis(DexelField& f, const CutterShape& shape, const Sweep& sweep, const Path& path, bool narrow,
                  int row_begin, int row_end, SweepCut& cut) {
  const double cell = std::min(f.cell_x_mm, f.cell_y_mm);
  const int steps = static_cast<int>(std::ceil(path.length / (0.5 * cell)));
  for (int k = 0; k <= steps; ++k) {
    const double t = steps == 0 ? 0 : static_cast<double>(k) / steps;
    const int x = static_cast<int>(std::floor((sweep.ax + t * (sweep.bx - sweep.ax)) / f.cell_x_mm));
    const int y = static_cast<int>(std::floor((sweep.ay + t * (sweep.by - sweep.ay)) / f.cell_y_mm));
    if (!f.inside(x, y) || y < row_begin || y >= row_end) continue;
    const Cell c = f.index(x, y);
    const float tip = path.length > 0 ? sweep.a_tip + static_cast<float>(t) * (sweep.b_tip - sweep.a_tip) : path.tip;
    const float surface = std::max(tip, f.floor[c]);
    const float depth = f.top[c] - surface;
    if (depth <= 0) continue;
    if (narrow) {
      // Of the cell's area only the kerf itself is gone.
      const float kerf = std::min(1.0F, 2 * shape.radiusAt(depth / 2) / static_cast<float>(cell));
      const float mean = std::min(f.top_mean[c], f.top[c] - kerf * depth);
      cut.removed_mm += f.top_mean[c] - mean;
      f.top_mean[c] = mean;
      cut.bite_mm = std::max(cut.bite_mm, depth);
      if (depth > least_depth_mm) cut.axial_depth_mm = std::max(cut.axial_depth_mm, depth);
    }
    f.top[c] = surface;
  }
}

}  // namespace

SweepCut cutRows(DexelField& field, const CutterShape& shape, const Sweep& sweep, int row_begin, int row_end) {
  SweepCut cut;
  const float lowest = std::min(sweep.a_tip, sweep.b_tip);
  const float stock_top = static_cast<float>(field.thickness_mm);
  if (lowest >= stock_top) return cut;
  const double radius = shape.radius;
  const double band = 0.71 * std::max(field.cell_x_mm, field.cell_y_mm);
  const auto rowAt = [&](double y) {
    return static_cast<int>(std::clamp(std::floor(y / field.cell_y_mm), -1.0, field.ny + 1.0));
  };
  const int from = std::max(row_begin, rowAt(std::min(sweep.ay, sweep.by) - radius - band));
  const int to = std::min(row_end, rowAt(std::max(sweep.ay, sweep.by) + radius + band) + 1);
  if (from >= to) return cut;

  const Path path = makePath(sweep);
  const bool rim_cuts = lowest + shape.rim < stock_top;
  const float inner_radius = std::max(0.0F, shape.radius - static_cast<float>(band));
  Job8 job{};
  job.path = path;
  job.radius2 = square(shape.radius);
  job.guard2 = square(std::max(0.0F, shape.radius - rim_guard_mm));
  job.inner2 = rim_cuts ? square(inner_radius) : job.radius2;
  job.heights = {field.top.data(), field.top_mean.data()};
  job.floor = field.floor.data();
  job.cell_x = static_cast<float>(field.cell_x_mm);
  job.cell_y = static_cast<float>(field.cell_y_mm);
  job.stride = field.stride;
  const float dx = static_cast<float>(sweep.bx - sweep.ax), dy = static_cast<float>(sweep.by - sweep.ay);
  Stadium outer, inner;
  std::array<Span, rows_at_once> spans;
  for (int begin = from; begin < to; begin += rows_at_once) {
    const int end = std::min(to, begin + rows_at_once), rows = end - begin;
    const float y = static_cast<float>(field.centreY(begin) - sweep.ay);
    stadiumRows(dx, dy, shape.radius + (rim_cuts ? static_cast<float>(band) : 0.0F), y, job.cell_y, rows, outer);
    for (int i = 0; i < rows; ++i) spans[i] = cellsIn(field, sweep.ax, outer, i);
    if (rim_cuts) {
      stadiumRows(dx, dy, inner_radius, y, job.cell_y, rows, inner);
      const float surface_from = lowest + shape.surface(inner_radius);
      for (int i = 0; i < rows; ++i) {
        cut.removed_mm += cutRim(field, shape, path, surface_from, spans[i], cellsSurelyIn(field, sweep.ax, inner, i),
                                 begin + i, row_begin, row_end, cut);
      }
    }
    switch (shape.underside) {
      case Underside::flat:
        cutFlat(job, {}, spans.data(), begin, end, cut);
        break;
      case Underside::ball:
        cutBall(job, {shape.arc_radius}, spans.data(), begin, end, cut);
        break;
      case Underside::cone:
        cutCone(job, {shape.flat_radius, shape.rise}, spans.data(), begin, end, cut);
        break;
      case Underside::bull:
        cutBull(job, {shape.flat_radius, shape.arc_radius}, spans.data(), begin, end, cut);
        break;
      case Underside::profile:
        cutProfile(job, {shape.table.data(), static_cast<float>(profile_steps - 1) / shape.radius}, spans.data(), begin,
                   end, cut);
        break;
    }
  }
  if (shape.underside != Underside::flat && shape.underside != Underside::bull) {
    const bool narrow =
        2 * shape.radiusAt(stock_top - lowest) < 1.5F * static_cast<float>(std::max(field.cell_x_mm, field.cell_y_mm));
    cutUnderAxis(field, shape, sweep, path, narrow, row_begin, row_end, cut);
  }
  return cut;
}

namespace {

// Calls visit(x, row) for the cells of some rows that may lie within `radius` of the sweep.
template <class Visit>
void eachCellNear(const DexelField& field, const Sweep& sweep, float radius, int row_begin, int row_end,
                  const Visit& visit) {
  const double reach = double{radius} + field.cell_y_mm;
  const auto rowAt = [&](double y) {
    return static_cast<int>(std::clamp(std::floor(y / field.cell_y_mm), -1.0, field.ny + 1.0));
  };
  const int from = std::max(row_begin, rowAt(std::min(sweep.ay, sweep.by) - reach));
  const int to = std::min(row_end, rowAt(std::max(sweep.ay, sweep.by) + reach) + 1);
  const float dx = static_cast<float>(sweep.bx - sweep.ax), dy = static_cast<float>(sweep.by - sweep.ay);
  Stadium stadium;
  for (int begin = from; begin < to; begin += rows_at_once) {
    const int end = std::min(to, begin + rows_at_once);
    stadiumRows(dx, dy, radius, static_cast<float>(field.centreY(begin) - sweep.ay),
                static_cast<float>(field.cell_y_mm), end - begin, stadium);
    for (int row = begin; row < end; ++row) {
      const Span span = cellsIn(field, sweep.ax, stadium, row - begin);
      for (int x = span.begin; x < span.end; ++x) visit(x, row);
    }
  }
}

}  // namespace

void noteLosses(const DexelField& field, const Sweep& sweep, float radius, int row_begin, int row_end, ContactLog& log,
                std::vector<ContactLoss>& losses) {
  const bool levels = !log.level.empty();
  eachCellNear(field, sweep, radius, row_begin, row_end, [&](int x, int row) {
    const Cell c = field.index(x, row);
    if (log.lost[c] & lost_all) return;
    if (field.top[c] > (levels ? log.level[c] : 0.0F) + no_material_mm) return;
    const Lost added = static_cast<Lost>(lostOf(field, log, c) & ~log.lost[c]);
    if (added == 0) return;
    log.lost[c] |= added;
    losses.push_back({sweep.motion, c, added});
  });
}

float materialAbove(const DexelField& field, const Sweep& sweep, float radius, float height, int row_begin,
                    int row_end) {
  const Path path = makePath(sweep);
  const float lowest = std::min(sweep.a_tip, sweep.b_tip);
  float highest = 0;
  eachCellNear(field, sweep, radius, row_begin, row_end, [&](int x, int row) {
    const Cell c = field.index(x, row);
    if (field.thickness(c) <= no_material_mm || field.top[c] - height <= highest + lowest) return;
    const Nearest n = nearest(path, static_cast<float>(field.centreX(x)), static_cast<float>(field.centreY(row)));
    if (n.distance > radius) return;
    highest = std::max(highest, field.top[c] - (n.tip + height));
  });
  return highest;
}

}  // namespace provecut::cutting
