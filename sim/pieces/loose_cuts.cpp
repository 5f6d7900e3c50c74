#include "sim/pieces/loose_cuts.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "sim/path/motion_extent.h"
#include "sim/path/path.h"
#include "sim/path/setup_frame.h"

namespace provecut::pieces {

namespace {

constexpr float least_loose_bite_mm = 1e-3F;
constexpr double rub_mm = 0.5;  // from the cutter's rim to the piece; our estimate, no source
constexpr double most_samples = 2000;

// The least of (k - at)² · step² + height[k] for every place of a row: the lower envelope of parabolas, from left to
// right (Felzenszwalb and Huttenlocher, Theory of Computing 8, 2012).
void spreadAlong(std::vector<double>& height, double step, std::vector<std::size_t>& of, std::vector<double>& from) {
  const double infinite = std::numeric_limits<double>::infinity();
  of.clear();
  from.clear();
  const auto crossing = [&](std::size_t p, std::size_t q) {
    const double a = static_cast<double>(p) * step, b = static_cast<double>(q) * step;
    return ((height[q] + b * b) - (height[p] + a * a)) / (2 * (b - a));
  };
  for (std::size_t k = 0; k < height.size(); ++k) {
    if (height[k] == infinite) continue;
    double begin = -infinite;
    while (!of.empty() && (begin = crossing(of.back(), k)) <= from.back()) {
      of.pop_back();
      from.pop_back();
      begin = -infinite;
    }
    of.push_back(k);
    from.push_back(begin);
  }
  if (of.empty()) return;
  std::vector<double> out(height.size());
  for (std::size_t k = 0, at = 0; k < height.size(); ++k) {
    const double x = static_cast<double>(k) * step;
    while (at + 1 < of.size() && from[at + 1] <= x) ++at;
    const double way = x - static_cast<double>(of[at]) * step;
    out[k] = way * way + height[of[at]];
  }
  height = std::move(out);
}

// Distances of all cells to the nearest marked 0, of a raster whose other cells are infinite.
void spread(LoosePiece& p) {
  std::vector<std::size_t> of;
  std::vector<double> from, line(p.nx);
  for (int y = 0; y < p.ny; ++y) {
    float* row = p.distance_mm.data() + static_cast<std::size_t>(y) * p.nx;
    line.assign(row, row + p.nx);
    spreadAlong(line, p.cell_x_mm, of, from);
    std::transform(line.begin(), line.end(), row, [](double v) { return static_cast<float>(v); });
  }
  line.resize(p.ny);
  for (int x = 0; x < p.nx; ++x) {
    for (int y = 0; y < p.ny; ++y) line[y] = double{p.distance_mm[static_cast<std::size_t>(y) * p.nx + x]};
    spreadAlong(line, p.cell_y_mm, of, from);
    for (int y = 0; y < p.ny; ++y)
      p.distance_mm[static_cast<std::size_t>(y) * p.nx + x] = static_cast<float>(std::sqrt(line[y]));
  }
}

// From a place to the piece's nearest dexel; infinite where it is farther than any cutter reaches.
double distanceTo(const LoosePiece& p, SetupPoint2 at) {
  const int x = static_cast<int>(std::floor(at.x / p.cell_x_mm)) - p.x0,
            y = static_cast<int>(std::floor(at.y / p.cell_y_mm)) - p.y0;
  if (x < 0 || y < 0 || x >= p.nx || y >= p.ny) return std::numeric_limits<double>::infinity();
  return double{p.distance_mm[static_cast<std::size_t>(y) * p.nx + x]};
}

enum class Nearness { none, beside, into };

Nearness nearnessOf(const LoosePiece& p, const Job& job, const Setup& setup, const Path& path, const Cutter& cutter) {
  const SetupPoint a = setupToSetup(job.stock, *p.setup, setup, p.box.low),
                   b = setupToSetup(job.stock, *p.setup, setup, p.box.high);
  const double top = std::max(a.z, b.z), cell = std::max(p.cell_x_mm, p.cell_y_mm);
  Nearness nearness = Nearness::none;
  for (const PathPiece& piece : path) {
    const double way =
        piece.arc ? std::abs(piece.sweep) * std::max(piece.radius0, piece.radius1) : length(piece.end - piece.start);
    const int steps = static_cast<int>(std::clamp(std::ceil(way / (2 * cell)), 1.0, most_samples));
    for (int k = 0; k <= steps; ++k) {
      const SetupPoint at = pointAt(piece, static_cast<double>(k) / steps);
      if (at.z >= top) continue;
      const double off = distanceTo(p, setupToSetup(job.stock, setup, *p.setup, flat(at)));
      const double radius = double{cutter.shape.radiusAt(static_cast<float>(top - at.z))};
      // A raster does not tell a rub along a wall from a cut less deep than a cell.
      if (off < radius - 0.75 * cell) return Nearness::into;
      if (off < radius + rub_mm + cell) nearness = Nearness::beside;
    }
  }
  return nearness;
}

}  // namespace

LoosePiece loosePiece(const cutting::DexelField& f, const Setup& setup, std::span<const cutting::Cell> cells,
                      const SetupBox& box, double reach_mm) {
  LoosePiece p;
  p.setup = &setup;
  p.cell_x_mm = f.cell_x_mm;
  p.cell_y_mm = f.cell_y_mm;
  p.box = box;
  if (cells.empty()) return p;
  int x_high = -1, y_high = -1;
  p.x0 = f.nx;
  p.y0 = f.ny;
  for (const cutting::Cell c : cells) {
    const auto [x, y] = f.place(c);
    p.x0 = std::min(p.x0, x);
    x_high = std::max(x_high, x);
    p.y0 = std::min(p.y0, y);
    y_high = std::max(y_high, y);
  }
  const int margin_x = static_cast<int>(std::ceil((reach_mm + rub_mm) / f.cell_x_mm)) + 2;
  const int margin_y = static_cast<int>(std::ceil((reach_mm + rub_mm) / f.cell_y_mm)) + 2;
  p.x0 -= margin_x;
  p.y0 -= margin_y;
  p.nx = x_high + margin_x + 1 - p.x0;
  p.ny = y_high + margin_y + 1 - p.y0;
  p.distance_mm.assign(static_cast<std::size_t>(p.nx) * p.ny, std::numeric_limits<float>::infinity());
  for (const cutting::Cell c : cells) {
    const auto [x, y] = f.place(c);
    p.distance_mm[static_cast<std::size_t>(y - p.y0) * p.nx + (x - p.x0)] = 0;
  }
  spread(p);
  return p;
}

CutsAtLoose cutsAtLoose(const LoosePiece& p, const Job& job, const Setup& setup, const Program& program,
                        const Cutters& cutters, const std::vector<MoveCut>& cuts, MoveSpan moves) {
  CutsAtLoose found;
  const double low_x = p.x0 * p.cell_x_mm, high_x = low_x + p.nx * p.cell_x_mm;
  const double low_y = p.y0 * p.cell_y_mm, high_y = low_y + p.ny * p.cell_y_mm;
  const std::size_t end = std::min<std::size_t>({moves.end, program.motions.size(), cuts.size()});
  for (std::uint32_t m = moves.first; m < end; ++m) {
    const Motion& motion = program.motions[m];
    if (cuts[m].bite_mm <= least_loose_bite_mm || cuts[m].removed_mm3 <= 0) continue;
    const auto cutter = cutters.find(motion.tool);
    if (cutter == cutters.end()) continue;
    const SetupBox box = workToSetup(setup, motionExtent(motion));
    const SetupPoint2 a = setupToSetup(job.stock, setup, *p.setup, flat(box.low)),
                      b = setupToSetup(job.stock, setup, *p.setup, flat(box.high));
    if (std::min(a.x, b.x) > high_x || std::max(a.x, b.x) < low_x || std::min(a.y, b.y) > high_y ||
        std::max(a.y, b.y) < low_y)
      continue;
    const Nearness nearness = nearnessOf(p, job, setup, pathOf(motion, setup.zero_mm, job.machine), cutter->second);
    if (nearness == Nearness::into) found.into.push_back(m);
    if (nearness == Nearness::beside) found.beside.push_back(m);
  }
  return found;
}

}  // namespace provecut::pieces
