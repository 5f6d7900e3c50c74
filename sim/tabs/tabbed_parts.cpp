#include "sim/tabs/tabbed_parts.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "sim/path/motion_extent.h"
#include "sim/path/path.h"
#include "sim/path/setup_frame.h"

namespace provecut::pieces {

namespace {

constexpr double sample_step_mm = 1;

// A cell of an outline.
constexpr std::uint8_t is_outside = 0, is_unknown = 1, is_part = 2;

// Marks what lies outside: from the corner on, over all that is no part.
void floodOutside(CellRaster<std::uint8_t>& r) {
  if (r.cells.empty()) return;
  std::vector<std::pair<int, int>> open{{0, 0}};
  r.cells[0] = is_outside;
  while (!open.empty()) {
    const auto [x, y] = open.back();
    open.pop_back();
    for (const auto& [dx, dy] : {std::pair{1, 0}, std::pair{-1, 0}, std::pair{0, 1}, std::pair{0, -1}}) {
      const int nx = x + dx, ny = y + dy;
      if (!r.inside(nx, ny) || r.cells[r.index(nx, ny)] != is_unknown) continue;
      r.cells[r.index(nx, ny)] = is_outside;
      open.push_back({nx, ny});
    }
  }
}

struct Meeting {
  bool within = false, beside = false;
};

// True if the cutter of a motion comes within the outline, or up to it from outside. `to_outline` leads from its setup
// frame to that of the outline.
template <class ToOutline>
Meeting meets(const PlanOutline& o, const Path& path, double reach, const ToOutline& to_outline) {
  Meeting meeting;
  for (const PathPiece& piece : path) {
    const double way =
        piece.arc ? std::abs(piece.sweep) * std::max(piece.radius0, piece.radius1) : length(piece.end - piece.start);
    const int steps = static_cast<int>(std::clamp(std::ceil(way / sample_step_mm), 1.0, max_samples));
    for (int k = 0; k <= steps && !meeting.within; ++k) {
      const SetupPoint2 p = to_outline(pointAt(piece, static_cast<double>(k) / steps));
      meeting.within = contains(o, p);
      for (int turn = 0; turn < 16 && !meeting.beside; ++turn) {
        const double angle = turn * std::numbers::pi / 8;
        meeting.beside = contains(o, p + Vec2{std::cos(angle), std::sin(angle)} * reach);
      }
    }
  }
  return meeting;
}

}  // namespace

PlanOutline outlineOf(const cutting::DexelField& field, const Setup& setup, std::span<const cutting::Cell> cells) {
  // One cell more on each side, so that the outside hangs together.
  PlanOutline o{&setup, rasterOf(field, cells, {1, 1}, is_part, is_unknown)};
  floodOutside(o.inside);
  return o;
}

StockPoint2 stockPoint(const TabbedNow& part, const Stock& stock, cutting::Cell cell) {
  const PlanOutline& o = part.outline;
  const SetupPoint2 centre{(cell % part.stride + 0.5) * o.inside.cell_x_mm,
                           (cell / part.stride + 0.5) * o.inside.cell_y_mm};
  return setupToStock(stock, *o.setup, centre);
}

bool contains(const PlanOutline& o, SetupPoint2 p) {
  return o.inside.at(p).value_or(is_outside) != is_outside;
}

CutsAbout cutsAbout(const PlanOutline& o, const Job& job, const Setup& setup, const Program& program,
                    const std::vector<MoveCut>& cuts, MoveSpan moves) {
  CutsAbout about;
  const auto toOutline = [&](SetupPoint p) { return setupToSetup(job.stock, setup, *o.setup, flat(p)); };
  const SetupPoint2 low = o.inside.low(), high = o.inside.high();
  const Tool* tool = nullptr;
  const std::size_t end = std::min<std::size_t>({moves.end, program.motions.size(), cuts.size()});
  for (std::uint32_t m = moves.first; m < end; ++m) {
    const Motion& motion = program.motions[m];
    if (cuts[m].bite_mm <= least_bite_mm || cuts[m].removed_mm3 <= 0) continue;
    if (!tool || tool->number != motion.tool) tool = findTool(job, motion.tool);
    if (!tool) continue;
    const double reach = tool->diameter_mm / 2 + beside_mm;
    const SetupBox box = workToSetup(setup, motionExtent(motion));
    const SetupPoint2 a = toOutline(box.low), b = toOutline(box.high);
    if (std::min(a.x, b.x) > high.x + reach || std::max(a.x, b.x) < low.x - reach ||
        std::min(a.y, b.y) > high.y + reach || std::max(a.y, b.y) < low.y - reach) {
      continue;
    }
    const Meeting meeting = meets(o, pathOf(motion, setup.zero_mm, job.machine), reach, toOutline);
    if (meeting.within) {
      about.within.push_back(m);
    } else if (meeting.beside) {
      about.beside.push_back(m);
    }
  }
  return about;
}

}  // namespace provecut::pieces
