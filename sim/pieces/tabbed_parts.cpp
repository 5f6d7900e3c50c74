#include "sim/pieces/tabbed_parts.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "sim/path/motion_extent.h"
#include "sim/path/path.h"
#include "sim/path/setup_frame.h"

namespace provecut::pieces {

namespace {

constexpr float least_bite_mm = 1e-3F;
constexpr double beside_mm = 0.5;  // from the cutter's rim to the part
constexpr double sample_step_mm = 1;
constexpr double max_samples = 2000;

}  // namespace

TabbedOutline outlineOf(const cutting::DexelField& field, const Setup& setup, const std::vector<std::uint32_t>& cells) {
  const auto stride = static_cast<std::uint32_t>(field.stride);
  int x_low = field.nx, x_high = -1, y_low = field.ny, y_high = -1;
  for (const std::uint32_t c : cells) {
    const int x = static_cast<int>(c % stride), y = static_cast<int>(c / stride);
    x_low = std::min(x_low, x);
    x_high = std::max(x_high, x);
    y_low = std::min(y_low, y);
    y_high = std::max(y_high, y);
  }
  TabbedOutline o;
  o.setup = &setup;
  o.cell_x_mm = field.cell_x_mm;
  o.cell_y_mm = field.cell_y_mm;
  if (cells.empty()) return o;
  // One cell more on each side, so that the outside hangs together.
  o.x0 = x_low - 1;
  o.y0 = y_low - 1;
  o.nx = x_high - x_low + 3;
  o.ny = y_high - y_low + 3;
  const auto at = [&](int x, int y) {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(o.nx) + static_cast<std::size_t>(x);
  };
  constexpr std::uint8_t unknown = 1, part = 2, outside = 0;
  o.inside.assign(static_cast<std::size_t>(o.nx) * static_cast<std::size_t>(o.ny), unknown);
  for (const std::uint32_t c : cells)
    o.inside[at(static_cast<int>(c % stride) - o.x0, static_cast<int>(c / stride) - o.y0)] = part;
  std::vector<std::pair<int, int>> open{{0, 0}};
  o.inside[0] = outside;
  while (!open.empty()) {
    const auto [x, y] = open.back();
    open.pop_back();
    for (const auto& [dx, dy] : {std::pair{1, 0}, std::pair{-1, 0}, std::pair{0, 1}, std::pair{0, -1}}) {
      const int nx = x + dx, ny = y + dy;
      if (nx < 0 || ny < 0 || nx >= o.nx || ny >= o.ny || o.inside[at(nx, ny)] != unknown) continue;
      o.inside[at(nx, ny)] = outside;
      open.push_back({nx, ny});
    }
  }
  return o;
}

StockPoint2 stockPoint(const TabbedNow& part, const Stock& stock, std::uint32_t cell) {
  const TabbedOutline& o = part.outline;
  return setupToStock(stock, *o.setup,
                      SetupPoint2{(cell % part.stride + 0.5) * o.cell_x_mm, (cell / part.stride + 0.5) * o.cell_y_mm});
}

bool contains(const TabbedOutline& o, SetupPoint2 p) {
  const int x = static_cast<int>(std::floor(p.x / o.cell_x_mm)) - o.x0,
            y = static_cast<int>(std::floor(p.y / o.cell_y_mm)) - o.y0;
  if (x < 0 || y < 0 || x >= o.nx || y >= o.ny) return false;
  return o.inside[static_cast<std::size_t>(y) * static_cast<std::size_t>(o.nx) + static_cast<std::size_t>(x)] != 0;
}

CutsAbout cutsAbout(const TabbedOutline& o, const Job& job, const Setup& setup, const Program& program,
                    const std::vector<MoveCut>& cuts, std::uint32_t first) {
  CutsAbout about;
  const auto toOutline = [&](SetupPoint p) { return setupToSetup(job.stock, setup, *o.setup, flat(p)); };
  const double low_x = o.x0 * o.cell_x_mm, high_x = low_x + o.nx * o.cell_x_mm;
  const double low_y = o.y0 * o.cell_y_mm, high_y = low_y + o.ny * o.cell_y_mm;
  const Tool* tool = nullptr;
  for (std::size_t m = first; m < program.motions.size() && m < cuts.size(); ++m) {
    const Motion& motion = program.motions[m];
    if (cuts[m].bite_mm <= least_bite_mm || cuts[m].removed_mm3 <= 0) continue;
    if (!tool || tool->number != motion.tool) tool = findTool(job, motion.tool);
    if (!tool) continue;
    const double reach = tool->diameter_mm / 2 + beside_mm;
    const SetupBox box = workToSetup(setup, motionExtent(motion));
    const SetupPoint2 a = toOutline(box.low), b = toOutline(box.high);
    if (std::min(a.x, b.x) > high_x + reach || std::max(a.x, b.x) < low_x - reach ||
        std::min(a.y, b.y) > high_y + reach || std::max(a.y, b.y) < low_y - reach) {
      continue;
    }
    bool within = false, beside = false;
    for (const PathPiece& piece : pathOf(motion, setup.zero_mm, job.machine)) {
      const double way =
          piece.arc ? std::abs(piece.sweep) * std::max(piece.radius0, piece.radius1) : length(piece.end - piece.start);
      const int steps = static_cast<int>(std::clamp(std::ceil(way / sample_step_mm), 1.0, max_samples));
      for (int k = 0; k <= steps && !within; ++k) {
        const SetupPoint2 p = toOutline(pointAt(piece, static_cast<double>(k) / steps));
        within = contains(o, p);
        for (int turn = 0; turn < 16 && !beside; ++turn) {
          const double angle = turn * std::numbers::pi / 8;
          beside = contains(o, p + Vec2{std::cos(angle), std::sin(angle)} * reach);
        }
      }
    }
    if (within) {
      about.within.push_back(static_cast<std::uint32_t>(m));
    } else if (beside) {
      about.beside.push_back(static_cast<std::uint32_t>(m));
    }
  }
  return about;
}

}  // namespace provecut::pieces
