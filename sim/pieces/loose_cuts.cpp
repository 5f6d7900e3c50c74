#include "sim/pieces/loose_cuts.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "sim/path/motion_extent.h"
#include "sim/path/path.h"
#include "sim/path/setup_frame.h"

namespace provecut::pieces {

namespace {

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
void spread(CellRaster<float>& r) {
  std::vector<std::size_t> of;
  std::vector<double> from, line(r.nx);
  for (int y = 0; y < r.ny; ++y) {
    float* row = r.cells.data() + r.index(0, y);
    line.assign(row, row + r.nx);
    spreadAlong(line, r.cell_x_mm, of, from);
    std::transform(line.begin(), line.end(), row, [](double v) { return static_cast<float>(v); });
  }
  line.resize(r.ny);
  for (int x = 0; x < r.nx; ++x) {
    for (int y = 0; y < r.ny; ++y) line[y] = double{r.cells[r.index(x, y)]};
    spreadAlong(line, r.cell_y_mm, of, from);
    for (int y = 0; y < r.ny; ++y) r.cells[r.index(x, y)] = static_cast<float>(std::sqrt(line[y]));
  }
}

// From a place to the piece's nearest dexel; infinite where it is farther than any cutter reaches.
double distanceTo(const LoosePiece& p, SetupPoint2 at) {
  return double{p.distance_mm.at(at).value_or(std::numeric_limits<float>::infinity())};
}

enum class Nearness { none, beside, into };

Nearness nearnessOf(const LoosePiece& p, const Job& job, const Setup& setup, const Path& path, const Cutter& cutter) {
  const SetupPoint a = setupToSetup(job.stock, *p.setup, setup, p.box.low),
                   b = setupToSetup(job.stock, *p.setup, setup, p.box.high);
  const double top = std::max(a.z, b.z), cell = std::max(p.distance_mm.cell_x_mm, p.distance_mm.cell_y_mm);
  Nearness nearness = Nearness::none;
  for (const PathPiece& piece : path) {
    const double way =
        piece.arc ? std::abs(piece.sweep) * std::max(piece.radius0, piece.radius1) : length(piece.end - piece.start);
    const int steps = static_cast<int>(std::clamp(std::ceil(way / (2 * cell)), 1.0, max_samples));
    for (int k = 0; k <= steps; ++k) {
      const SetupPoint at = pointAt(piece, static_cast<double>(k) / steps);
      if (at.z >= top) continue;
      const double off = distanceTo(p, setupToSetup(job.stock, setup, *p.setup, flat(at)));
      const double radius = double{cutter.shape.radiusAt(static_cast<float>(top - at.z))};
      // A raster does not tell a rub along a wall from a cut less deep than a cell.
      if (off < radius - 0.75 * cell) return Nearness::into;
      if (off < radius + beside_mm + cell) nearness = Nearness::beside;
    }
  }
  return nearness;
}

}  // namespace

LoosePiece loosePiece(const cutting::DexelField& f, const Setup& setup, std::span<const cutting::Cell> cells,
                      const SetupBox& box, double reach_mm) {
  const auto margin = [&](double cell_mm) { return static_cast<int>(std::ceil((reach_mm + beside_mm) / cell_mm)) + 2; };
  LoosePiece p{
      &setup,
      rasterOf(f, cells, {margin(f.cell_x_mm), margin(f.cell_y_mm)}, 0.0F, std::numeric_limits<float>::infinity()),
      box};
  spread(p.distance_mm);
  return p;
}

CutsAtLoose cutsAtLoose(const LoosePiece& p, const Job& job, const Setup& setup, const Program& program,
                        const Cutters& cutters, const std::vector<MoveCut>& cuts, MoveSpan moves) {
  CutsAtLoose found;
  const SetupPoint2 low = p.distance_mm.low(), high = p.distance_mm.high();
  const std::size_t end = std::min<std::size_t>({moves.end, program.motions.size(), cuts.size()});
  for (std::uint32_t m = moves.first; m < end; ++m) {
    const Motion& motion = program.motions[m];
    if (cuts[m].bite_mm <= least_bite_mm || cuts[m].removed_mm3 <= 0) continue;
    const auto cutter = cutters.find(motion.tool);
    if (cutter == cutters.end()) continue;
    const SetupBox box = workToSetup(setup, motionExtent(motion));
    const SetupPoint2 a = setupToSetup(job.stock, setup, *p.setup, flat(box.low)),
                      b = setupToSetup(job.stock, setup, *p.setup, flat(box.high));
    if (std::min(a.x, b.x) > high.x || std::max(a.x, b.x) < low.x || std::min(a.y, b.y) > high.y ||
        std::max(a.y, b.y) < low.y)
      continue;
    const Nearness nearness = nearnessOf(p, job, setup, pathOf(motion, setup.zero_mm, job.machine), cutter->second);
    if (nearness == Nearness::into) found.into.push_back(m);
    if (nearness == Nearness::beside) found.beside.push_back(m);
  }
  return found;
}

}  // namespace provecut::pieces
