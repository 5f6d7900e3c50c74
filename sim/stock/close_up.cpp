#include "sim/stock/close_up.h"

#include <algorithm>
#include <cmath>

#include "sim/path/motion_extent.h"
#include "sim/path/setup_frame.h"
#include "sim/stock/cut.h"
#include "sim/stock/cut_gaps.h"

namespace provecut::cutting {

namespace {

// What is near enough to the rim of the rectangle to reach in.
constexpr double beside_mm = 1;

struct Rectangle {
  SetupPoint2 low, high;
};

// The same rectangle in another setup.
Rectangle inSetup(const Stock& stock, const Setup& from, const Setup& to, SetupPoint2 low, Vec2 size) {
  const SetupPoint2 a = setupToSetup(stock, from, to, low), b = setupToSetup(stock, from, to, low + size);
  return {{std::min(a.x, b.x), std::min(a.y, b.y)}, {std::max(a.x, b.x), std::max(a.y, b.y)}};
}

}  // namespace

PastCut pastCut(const Cutters& cutters, const Setup& setup, const Program& program) {
  PastCut past{&setup, &program, std::vector<MotionReach>(program.motions.size())};
  for (std::size_t m = 0; m < program.motions.size(); ++m) {
    const Motion& motion = program.motions[m];
    const auto cutter = cutters.find(motion.tool);
    if (!moves(motion) || cutter == cutters.end()) continue;
    if (motion.flags & (motion_start_unknown | motion_height_unknown)) {
      constexpr float anywhere = 1e30F;
      past.reach[m] = {-anywhere, -anywhere, anywhere, anywhere};
      continue;
    }
    const double r = double{cutter->second.shape.radius} + beside_mm;
    const WorkBox box = motionExtent(motion);
    past.reach[m] = {static_cast<float>(box.low.x - r), static_cast<float>(box.low.y - r),
                     static_cast<float>(box.high.x + r), static_cast<float>(box.high.y + r)};
  }
  return past;
}

CloseUpPlace placeOf(const PastCuts& past, SetupPoint2 low, Vec2 size_mm, std::uint32_t until) {
  CloseUpPlace place{low, size_mm, {}, 0};
  const Setup& now = *past.programs.back().setup;
  for (const PastCut& p : past.programs) {
    const Rectangle there = inSetup(past.job.stock, now, *p.setup, low, size_mm);
    const WorkPoint2 a = setupToWork(*p.setup, there.low), b = setupToWork(*p.setup, there.high);
    std::vector<Motion>& motions = place.motions.emplace_back();
    const std::size_t end = &p == &past.programs.back() ? std::min<std::size_t>(until, p.reach.size()) : p.reach.size();
    for (std::size_t m = 0; m < end; ++m) {
      const MotionReach& reach = p.reach[m];
      if (double{reach.low_x} > b.x || double{reach.high_x} < a.x || double{reach.low_y} > b.y ||
          double{reach.high_y} < a.y)
        continue;
      motions.push_back(p.program->motions[m]);
      const double diameter = 2 * double{past.cutters.at(motions.back().tool).shape.radius};
      if (place.narrowest_mm == 0 || diameter < place.narrowest_mm) place.narrowest_mm = diameter;
    }
  }
  return place;
}

bool isCostly(const PastCuts& past, const CloseUpPlace& place) {
  return std::any_of(place.motions.begin(), place.motions.end(), [&](const std::vector<Motion>& motions) {
    return std::any_of(motions.begin(), motions.end(), [&](const Motion& m) {
      const Cutter& cutter = past.cutters.at(m.tool);
      return cutter.undercut || cutter.by_pieces;
    });
  });
}

DexelField enlarged(const DexelField& field, const CloseUpPlace& place, Vec2 cell_mm) {
  Stock stock;
  stock.size_mm = {place.size_mm.x, place.size_mm.y, field.thickness_mm};
  DexelField out = uncutStock(stock, cell_mm);
  for (int y = 0; y < out.ny; ++y) {
    for (int x = 0; x < out.nx; ++x) {
      const auto from = field.cellAt(place.low.x + out.centreX(x), place.low.y + out.centreY(y));
      if (!from) continue;
      const Cell c = out.index(x, y);
      out.top[c] = field.top[*from];
      out.floor[c] = field.floor[*from];
      out.top_mean[c] = field.top_mean[*from];
      out.floor_mean[c] = field.floor_mean[*from];
    }
  }
  return out;
}

double cheapCell_mm(const CloseUpPlace& place, double max_cell_cuts) {
  double cost = 0;
  for (const std::vector<Motion>& motions : place.motions) {
    cost += static_cast<double>(motions.size());
  }
  return std::sqrt(place.size_mm.x * place.size_mm.y * cost / max_cell_cuts);
}

DexelField closeUp(const PastCuts& past, const CloseUpPlace& place, Vec2 cell_mm) {
  const Setup& now = *past.programs.back().setup;
  const Setup as_stock;
  const Rectangle in_stock = inSetup(past.job.stock, now, as_stock, place.low, place.size_mm);
  const bool turned = now.rotate_deg % 180 != 0;
  const StockPoint2 low = setupToStock(past.job.stock, as_stock, in_stock.low);
  DexelField field =
      uncutPart(past.job.stock, low, in_stock.high - in_stock.low, turned ? Vec2{cell_mm.y, cell_mm.x} : cell_mm);
  const Setup* setup = &as_stock;
  for (std::size_t k = 0; k < past.programs.size(); ++k) {
    const PastCut& p = past.programs[k];
    field = movedTo(std::move(field), *setup, *p.setup);
    setup = p.setup;
    if (place.motions[k].empty()) continue;
    const Rectangle there = inSetup(past.job.stock, now, *setup, place.low, place.size_mm);
    Setup shifted = *setup;
    shifted.zero_mm.x -= there.low.x;
    shifted.zero_mm.y -= there.low.y;
    cutProgram(field, past.cutters, past.job, shifted, place.motions[k], {.measured = false});
    cutGaps(field, past.cutters, past.job, shifted, place.motions[k], nullptr);
  }
  return field;
}

}  // namespace provecut::cutting
