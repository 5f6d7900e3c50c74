#include "sim/stock/engagement_section.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace provecut::cutting {

namespace {

constexpr int curved_slices = 8;

LeadingHalf::Slice slice(float radius, float low, float high, double cell) {
  LeadingHalf::Slice s{low, high, radius, 0, {}};
  const int n = std::clamp(static_cast<int>(std::ceil(4 * s.radius / cell)), 8, 512);
  s.step = 2 * s.radius / static_cast<float>(n);
  for (int i = 0; i < n; ++i) {
    const float aside = -s.radius + (static_cast<float>(i) + 0.5F) * s.step;
    s.points.push_back({std::sqrt(std::max(0.0F, s.radius * s.radius - aside * aside)), aside});
  }
  return s;
}

double planLength(const Sweep& s) {
  return std::hypot(s.bx - s.ax, s.by - s.ay);
}

// Material of an undercut cell between two heights, mm: the mean of its samples.
float between(const UndercutCell& cell, float low, float high) {
  float sum = 0;
  for (const DexelSegment& s : cell.segments) sum += std::max(0.0F, std::min(high, s.high) - std::max(low, s.low));
  return sum / static_cast<float>(samples_per_cell);
}

// A place of a sweep, in cells, and the way on from there.
struct AheadOf {
  float x, y;          // of the axis, cells
  float ux, uy;        // unit vector along the way
  float per_x, per_y;  // cells per mm
  float nx;            // cells in a row
  float row_begin, row_end;
  float tip;        // height, mm
  float coarse_mm;  // the greater side of a cell

  bool holds(float px, float py) const { return px >= 0 && px < nx && py >= row_begin && py < row_end; }
};

// Adds the material in the way of one slice.
void addSlice(const DexelField& field, const LeadingHalf::Slice& s, const AheadOf& at, SectionSample& sample) {
  const float bottom = at.tip + s.low, top = at.tip + s.high;
  float depths = 0;
  for (const LeadingHalf::Point& p : s.points) {
    const float dx = (p.ahead * at.ux - p.aside * at.uy) * at.per_x,
                dy = (p.ahead * at.uy + p.aside * at.ux) * at.per_y;
    const float px = at.x + dx, py = at.y + dy;
    if (!at.holds(px, py)) continue;
    const Cell c = field.index(static_cast<int>(px), static_cast<int>(py));
    const float standing = field.top_mean[c], floor = field.floor_mean[c];
    const float depth = field.undercut.holds(c) ? between(field.undercut.at(c, field.row(c)), bottom, top)
                                                : std::min(standing, top) - std::max(bottom, floor);
    if (depth <= least_depth_mm) continue;
    depths += depth;
    // The cell may be partly cut already: what stands a cell further out tells how high the material really is.
    const float out = 1 + at.coarse_mm / s.radius;
    const float ox = at.x + dx * out, oy = at.y + dy * out;
    float height = std::max(field.top[c], standing);
    if (at.holds(ox, oy))
      height = std::max(height, field.top_mean[field.index(static_cast<int>(ox), static_cast<int>(oy))]);
    sample.height_mm = std::max(sample.height_mm, height - std::max(at.tip, floor));
  }
  sample.area_mm2 += depths * s.step;
}

}  // namespace

LeadingHalf leadingHalf(const CutterShape& shape, double cell_mm) {
  LeadingHalf leading;
  leading.radius = shape.radius;
  leading.upright = shape.rim <= 0;
  // Slices grow with the square of their number: of a ball they are equally wide.
  for (int k = 0; shape.rim > 0 && k < curved_slices; ++k) {
    const auto height = [&](int i) { return shape.rim * static_cast<float>(i * i) / (curved_slices * curved_slices); };
    leading.slices.push_back(slice(shape.radiusAt((height(k) + height(k + 1)) / 2), height(k), height(k + 1), cell_mm));
  }
  leading.slices.push_back(
      slice(shape.radiusAt(shape.rim), shape.rim, std::numeric_limits<float>::infinity(), cell_mm));
  return leading;
}

LeadingHalf leadingHalf(std::span<const BodyPiece> pieces, double cell_mm) {
  LeadingHalf leading;
  leading.upright = true;
  for (const BodyPiece& p : pieces) {
    leading.radius = std::max({leading.radius, static_cast<float>(p.r0), static_cast<float>(p.r1)});
    const int slices = std::abs(p.r1 - p.r0) > cell_mm ? curved_slices : 1;
    for (int k = 0; k < slices; ++k) {
      const auto at = [&](double share, double a, double b) {
        return static_cast<float>(a + (b - a) * share / slices);
      };
      leading.slices.push_back(slice(at(k + 0.5, p.r0, p.r1), at(k, p.z0, p.z1), at(k + 1, p.z0, p.z1), cell_mm));
    }
  }
  return leading;
}

void appendSamples(const Sweep& sweep, const LeadingHalf& leading, double cell_mm, bool chord, bool last_chord,
                   std::vector<SectionSample>& samples) {
  const double length = planLength(sweep);
  const auto add = [&](double way, double weight) {
    samples.push_back({static_cast<float>(way), static_cast<float>(weight), 0, 0});
  };
  if (chord) {
    add(length / 2, length);
    if (last_chord) add(length, 0);
    return;
  }
  const double radius = leading.radius;
  const double step = std::max(leading.upright ? radius / 2 : radius, 2 * cell_mm);
  if (length < (leading.upright ? 2 * cell_mm : step)) return;
  const int steps = static_cast<int>(std::ceil(length / step));
  const double even = length / steps;
  const std::size_t first = samples.size();
  add(0, 0);
  if (steps > 1) add(even / 8, 0);
  if (steps > 1) add(even / 2, 0);
  for (int k = 1; k < steps; ++k) add(k * even, 0);
  add(length - even / 2, 0);
  add(length - even / 8, 0);
  add(length, 0);
  // The trapezoidal rule.
  for (std::size_t i = first; i < samples.size(); ++i) {
    const float before = i > first ? samples[i].way_mm - samples[i - 1].way_mm : 0;
    const float after = i + 1 < samples.size() ? samples[i + 1].way_mm - samples[i].way_mm : 0;
    samples[i].weight_mm = (before + after) / 2;
  }
}

void addSection(const DexelField& field, const LeadingHalf& leading, const Sweep& sweep, int row_begin, int row_end,
                SectionSample& sample) {
  const double length = planLength(sweep);
  if (length <= 0) return;
  const double cx = field.cell_x_mm, cy = field.cell_y_mm;
  const double t = sample.way_mm / length;
  const double y_centre = sweep.ay + t * (sweep.by - sweep.ay), reach = leading.radius + cy;
  if (y_centre + reach < row_begin * cy || y_centre - reach > row_end * cy) return;
  AheadOf at{};
  at.x = static_cast<float>((sweep.ax + t * (sweep.bx - sweep.ax)) / cx);
  at.y = static_cast<float>(y_centre / cy);
  at.ux = static_cast<float>((sweep.bx - sweep.ax) / length);
  at.uy = static_cast<float>((sweep.by - sweep.ay) / length);
  at.per_x = static_cast<float>(1 / cx);
  at.per_y = static_cast<float>(1 / cy);
  at.nx = static_cast<float>(field.nx);
  at.row_begin = static_cast<float>(row_begin);
  at.row_end = static_cast<float>(row_end);
  at.tip = sweep.a_tip + static_cast<float>(t) * (sweep.b_tip - sweep.a_tip);
  at.coarse_mm = std::max(static_cast<float>(cx), static_cast<float>(cy));
  const float stock_top = static_cast<float>(field.thickness_mm);
  for (const LeadingHalf::Slice& s : leading.slices) {
    if (at.tip + s.low >= stock_top - least_depth_mm) break;
    addSlice(field, s, at, sample);
  }
}

}  // namespace provecut::cutting
