// The yardstick: the least work that any height-field cut of ball-nose moves has to do. One thread, a plain float
// array, the minimum over all moves of the ball's lower surface; nothing is counted, kept or asked for.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <span>
#include <vector>

#include "parser/base/geometry.h"
#include "tests/bench/measured_process.h"

namespace provecut::bench {

struct BareField {
  int nx, ny;
  float cell;
  std::vector<float> height;
};

// Moves go from points[i] to points[i + 1]; tips in mm above the stock's underside.
__attribute__((target_clones("avx2", "default"))) inline void bareBallKernel(BareField& f,
                                                                             std::span<const WorkPoint> points,
                                                                             float radius) {
  const float r2 = radius * radius, cell = f.cell;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const float ax = static_cast<float>(points[i].x), ay = static_cast<float>(points[i].y),
                az = static_cast<float>(points[i].z);
    const float dx = static_cast<float>(points[i + 1].x) - ax, dy = static_cast<float>(points[i + 1].y) - ay;
    const float dz = static_cast<float>(points[i + 1].z) - az;
    const float length = std::sqrt(dx * dx + dy * dy), ux = dx / length, uy = dy / length, m = dz / length;
    const float lead = m / std::sqrt(1 + m * m);
    const int y0 = std::max(0, static_cast<int>((std::min(ay, ay + dy) - radius) / cell - 0.5F));
    const int y1 = std::min(f.ny - 1, static_cast<int>((std::max(ay, ay + dy) + radius) / cell + 0.5F));
    const int x0 = std::max(0, static_cast<int>((std::min(ax, ax + dx) - radius) / cell - 0.5F));
    const int x1 = std::min(f.nx - 1, static_cast<int>((std::max(ax, ax + dx) + radius) / cell + 0.5F));
    for (int y = y0; y <= y1; ++y) {
      const float py = (static_cast<float>(y) + 0.5F) * cell - ay;
      float* row = f.height.data() + static_cast<std::ptrdiff_t>(y) * f.nx;
      for (int x = x0; x <= x1; ++x) {
        const float px = (static_cast<float>(x) + 0.5F) * cell - ax;
        const float q = px * uy - py * ux, q2 = q * q;
        const float half = std::sqrt(std::max(r2 - q2, 0.0F));
        const float along = px * ux + py * uy;
        const float s = std::min(std::max(along - half * lead, 0.0F), length);
        const float u = along - s, d2 = q2 + u * u;
        const float z = az + s * m + radius - std::sqrt(std::max(r2 - d2, 0.0F));
        const float old = row[x];
        row[x] = d2 <= r2 && z < old ? z : old;
      }
    }
  }
}

// A 3D finishing program: rows along x, `step_over` apart, points every `step` mm on a surface of gentle waves that
// stays between 2 and 10 mm below the top of stock `size` square and `thickness` high.
inline std::vector<WorkPoint> finishingPoints(double size, double thickness, double step, double step_over,
                                              std::size_t max_moves) {
  std::vector<WorkPoint> points;
  bool forward = true;
  for (double y = 0; y <= size && points.size() <= max_moves; y += step_over, forward = !forward) {
    const int n = static_cast<int>(size / step);
    for (int k = 0; k <= n && points.size() <= max_moves; ++k) {
      const double x = forward ? k * step : size - k * step;
      points.push_back({x, y, thickness - 6 + 2.5 * std::sin(x / 17) + 1.5 * std::cos(y / 11 + x / 40)});
    }
  }
  return points;
}

// What the yardstick takes for such a program on stock of its size, in seconds of this thread's processor.
template <typename Points>
double bareSeconds(const Points& points, double size_mm, double thickness_mm, double ball_mm, double cell_mm) {
  const std::size_t n = static_cast<std::size_t>(size_mm / cell_mm + 0.5);
  const float top = static_cast<float>(thickness_mm);
  BareField field{static_cast<int>(n), static_cast<int>(n), static_cast<float>(cell_mm),
                  std::vector<float>(n * n, top)};
  const double start = processorSeconds();
  bareBallKernel(field, points, static_cast<float>(ball_mm / 2));
  const double seconds = processorSeconds() - start;
  if (field.height[0] > top) std::abort();  // keeps the work
  return seconds;
}

}  // namespace provecut::bench
