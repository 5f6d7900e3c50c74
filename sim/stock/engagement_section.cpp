#include "sim/stock/engagement_section.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace provecut::cutting {

namespace {

constexpr int curved_slices = 8;
constexpr float least_depth_mm = 1e-3F;  // rounding of heights

CutterFront::Slice slice(float radius, float low, float high, double cell) {
  CutterFront::Slice s{low, high, radius, 0, {}};
  const int n = std::clamp(static_cast<int>(std::ceil(4 * static_cast<double>(s.radius) / cell)), 8, 512);
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

}  // namespace

CutterFront cutterFront(const CutterShape& shape, double cell_mm) {
  CutterFront front;
  front.radius = shape.radius;
  front.upright = shape.rim <= 0;
  // Slices grow with the square of their number: of a ball they are equally wide.
  for (int k = 0; shape.rim > 0 && k < curved_slices; ++k) {
    const auto height = [&](int i) { return shape.rim * static_cast<float>(i * i) / (curved_slices * curved_slices); };
    front.slices.push_back(slice(shape.radiusAt((height(k) + height(k + 1)) / 2), height(k), height(k + 1), cell_mm));
  }
  front.slices.push_back(slice(shape.radiusAt(shape.rim), shape.rim, std::numeric_limits<float>::infinity(), cell_mm));
  return front;
}

CutterFront cutterFront(std::span<const BodyPiece> pieces, double cell_mm) {
  CutterFront front;
  front.upright = true;
  for (const BodyPiece& p : pieces) {
    front.radius = std::max({front.radius, static_cast<float>(p.r0), static_cast<float>(p.r1)});
    const int slices = std::abs(p.r1 - p.r0) > cell_mm ? curved_slices : 1;
    for (int k = 0; k < slices; ++k) {
      const auto at = [&](double share, double a, double b) {
        return static_cast<float>(a + (b - a) * share / slices);
      };
      front.slices.push_back(slice(at(k + 0.5, p.r0, p.r1), at(k, p.z0, p.z1), at(k + 1, p.z0, p.z1), cell_mm));
    }
  }
  return front;
}

namespace {

// Material of an undercut cell between two heights, mm: the mean of its samples.
float between(const UndercutCell& cell, float low, float high) {
  float sum = 0;
  for (const DexelSegment& r : cell.runs) sum += std::max(0.0F, std::min(high, r.high) - std::max(low, r.low));
  return sum / static_cast<float>(samples_per_cell);
}

}  // namespace

void appendFrontSamples(const Sweep& sweep, const CutterFront& front, double cell_mm, bool chord, bool last_chord,
                        std::vector<FrontSample>& samples) {
  const double length = planLength(sweep);
  const auto add = [&](double way, double weight) {
    samples.push_back({static_cast<float>(way), static_cast<float>(weight), 0, 0});
  };
  if (chord) {
    add(length / 2, length);
    if (last_chord) add(length, 0);
    return;
  }
  const double radius = static_cast<double>(front.radius);
  const double step = std::max(front.upright ? radius / 2 : radius, 2 * cell_mm);
  if (length < (front.upright ? 2 * cell_mm : step)) return;
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

void addFront(const DexelField& field, const CutterFront& front, const Sweep& sweep, int row_begin, int row_end,
              FrontSample& sample) {
  const double length = planLength(sweep);
  if (length <= 0) return;
  const double cx = field.cell_x_mm, cy = field.cell_y_mm;
  const float ux = static_cast<float>((sweep.bx - sweep.ax) / length),
              uy = static_cast<float>((sweep.by - sweep.ay) / length);
  const double t = static_cast<double>(sample.way_mm) / length;
  const double y_centre = sweep.ay + t * (sweep.by - sweep.ay), reach = static_cast<double>(front.radius) + cy;
  if (y_centre + reach < row_begin * cy || y_centre - reach > row_end * cy) return;
  // In cells from here on.
  const float x = static_cast<float>((sweep.ax + t * (sweep.bx - sweep.ax)) / cx),
              y = static_cast<float>(y_centre / cy);
  const float per_x = static_cast<float>(1 / cx), per_y = static_cast<float>(1 / cy);
  const float tip = sweep.a_tip + static_cast<float>(t) * (sweep.b_tip - sweep.a_tip);
  const float stock_top = static_cast<float>(field.thickness_mm);
  const auto nx = static_cast<float>(field.nx), low_row = static_cast<float>(row_begin),
             high_row = static_cast<float>(row_end);
  for (const CutterFront::Slice& s : front.slices) {
    const float bottom = tip + s.low, top = tip + s.high;
    if (bottom >= stock_top - least_depth_mm) break;
    float depths = 0;
    for (const CutterFront::Point& p : s.points) {
      const float dx = (p.ahead * ux - p.aside * uy) * per_x, dy = (p.ahead * uy + p.aside * ux) * per_y;
      const float px = x + dx, py = y + dy;
      if (!(px >= 0 && px < nx && py >= low_row && py < high_row)) continue;
      const std::size_t c = field.index(static_cast<int>(px), static_cast<int>(py));
      const float standing = field.top_mean[c], floor = field.floor_mean[c];
      const float depth = field.undercut.holds(c) ? between(field.undercut.at(c, field.row(c)), bottom, top)
                                                  : std::min(standing, top) - std::max(bottom, floor);
      if (depth <= least_depth_mm) continue;
      depths += depth;
      // The cell may be partly cut already: what stands a cell further out tells how high the material really is.
      const float out = 1 + std::max(static_cast<float>(cx), static_cast<float>(cy)) / s.radius;
      const float ox = x + dx * out, oy = y + dy * out;
      float height = std::max(field.top[c], standing);
      if (ox >= 0 && ox < nx && oy >= low_row && oy < high_row) {
        height = std::max(height, field.top_mean[field.index(static_cast<int>(ox), static_cast<int>(oy))]);
      }
      sample.height_mm = std::max(sample.height_mm, height - std::max(tip, floor));
    }
    sample.area_mm2 += depths * s.step;
  }
}

}  // namespace provecut::cutting
