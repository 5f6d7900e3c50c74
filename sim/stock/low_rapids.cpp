#include "sim/stock/low_rapids.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numeric>

#include "sim/path/setup_frame.h"
#include "sim/path/sweep.h"
#include "sim/stock/cleared_way.h"
#include "sim/stock/cut.h"
#include "sim/stock/cut_gaps.h"

namespace provecut::cutting {

namespace {

// Of the finer cells: a wall of twice that is seen wherever it stands.
constexpr double fine_cell_mm = 0.05;
// Undercut tools are cut piece by piece, which takes about so many times as long.
constexpr double cost_by_pieces = 30;
// A program's close-ups together are no dearer than so many cells cut by a motion each; each rapid has its share.
constexpr double max_cell_cuts = 4e9;
// Less than this of a cross-section is the raster's own rounding along a wall.
constexpr double least_section_mm2 = 0.02;
// What is narrower than this many cells is better measured on finer ones.
constexpr float least_cells = 2;

struct Rapid {
  std::uint32_t motion;
  std::vector<Sweep> sweeps;
};

double planLength_mm(const Sweep& s) {
  return std::hypot(s.bx - s.ax, s.by - s.ay);
}

Sweep part(const Sweep& s, double from, double to) {
  const auto at = [](double a, double b, double t) { return a + t * (b - a); };
  const auto tip = [&](double t) { return static_cast<float>(at(double{s.a_tip}, double{s.b_tip}, t)); };
  return {
      at(s.ax, s.bx, from), at(s.ay, s.by, from), at(s.ax, s.bx, to), at(s.ay, s.by, to), tip(from), tip(to), s.motion};
}

// A feed, so that it goes straight on every machine.
Motion motionAlong(const Sweep& s, const Setup& setup, const Motion& rapid) {
  Motion m = rapid;
  m.kind = MotionKind::feed;
  m.start = setupToWork(setup, SetupPoint{s.ax, s.ay, double{s.a_tip}});
  m.end = setupToWork(setup, SetupPoint{s.bx, s.by, double{s.b_tip}});
  return m;
}

// True if what the raster has seen in a rapid's way is not, or only roughly, what is there.
bool isSeenRoughly(const MoveCut& cut, double climb_mm, double plan_mm, double coarse_mm, double diameter_mm) {
  if (cut.bite_mm <= least_depth_mm) return double{cut.removed_mm3} > least_section_mm2 * std::max(1.0, plan_mm);
  // Steep ways have no section. One that goes up may shave off a rim that is far narrower than the cells that hold it.
  if (cut.section_mm2 <= 0)
    return plan_mm >= std::abs(climb_mm) ||
           (climb_mm > 0 && plan_mm > 0 && cut.bite_mm < static_cast<float>(coarse_mm));
  return cut.max_radial_depth_mm < least_cells * static_cast<float>(coarse_mm) ||
         cut.engaged_mm < static_cast<float>(diameter_mm);
}

// Where the raster sees nothing in a rapid's way, a wall may stand between the centres of two dexels that is hardly
// higher than the tip: no cell's mean height reaches up to it.
bool mayMeetUnseenWall(const PastCuts& past, const MoveCut& cut, std::uint32_t motion,
                       const std::vector<Sweep>& sweeps) {
  const bool seen = cut.bite_mm > least_depth_mm;
  const bool sideways = std::any_of(sweeps.begin(), sweeps.end(), [](const Sweep& s) { return planLength_mm(s) > 0; });
  return !seen && sideways && !wasCleared(past, motion, sweeps);
}

// What a stretch took off the stock, seen along its way: how wide, and how large over all its width.
void measureSwath(const DexelField& before, const DexelField& after, const Sweep& stretch, SetupPoint2 corner,
                  double radius_mm, MoveCut& cut) {
  const double length_mm = planLength_mm(stretch), bin_mm = std::min(after.cell_x_mm, after.cell_y_mm) / 4;
  const Vec2 across{-(stretch.by - stretch.ay) / length_mm, (stretch.bx - stretch.ax) / length_mm};
  const double cell_mm = std::abs(across.x) * after.cell_x_mm + std::abs(across.y) * after.cell_y_mm;
  const double half_mm = radius_mm + 2 * cell_mm;
  std::vector<float> deepest(static_cast<std::size_t>(2 * half_mm / bin_mm) + 1);
  const auto binAt = [&](double across_mm) {
    const double bin = std::round((across_mm + half_mm) / bin_mm);
    return static_cast<std::size_t>(std::clamp(bin, 0.0, static_cast<double>(deepest.size())));
  };
  for (int y = 0; y < after.ny; ++y) {
    for (int x = 0; x < after.nx; ++x) {
      const Cell c = after.index(x, y);
      const float taken = before.meanThickness(c) - after.meanThickness(c);
      if (taken <= least_depth_mm) continue;
      const Vec2 from_a{corner.x + after.centreX(x) - stretch.ax, corner.y + after.centreY(y) - stretch.ay};
      const double middle_mm = dot(from_a, across);
      for (std::size_t bin = binAt(middle_mm - cell_mm / 2); bin < binAt(middle_mm + cell_mm / 2); ++bin)
        deepest[bin] = std::max(deepest[bin], taken);
    }
  }
  const float height_mm = *std::max_element(deepest.begin(), deepest.end());
  if (height_mm <= least_depth_mm) return;
  cut.section_mm2 = std::accumulate(deepest.begin(), deepest.end(), 0.0F) * static_cast<float>(bin_mm);
  cut.section_height_mm = height_mm;
  cut.max_radial_depth_mm = cut.section_mm2 / height_mm;
}

double takenAtCentres_mm3(const DexelField& before, const DexelField& after) {
  double taken_sum_mm = 0;
  for (int y = 0; y < after.ny; ++y) {
    for (int x = 0; x < after.nx; ++x) {
      const float taken = taken_mm(before, after, after.index(x, y));
      if (taken > least_depth_mm) taken_sum_mm += double{taken};
    }
  }
  return taken_sum_mm * after.cellArea_mm2();
}

// What a stretch of a rapid meets. `before`: the way that it has come, for what that took is gone.
MoveCut lookAt(const PastCuts& past, std::uint32_t motion, std::span<const Sweep> before, const Sweep& stretch,
               double coarse_mm, double max_cost) {
  const PastCut& program = past.programs.back();
  const Setup& setup = *program.setup;
  const Motion& rapid = program.program->motions[motion];
  const double reach = double{past.cutters.at(rapid.tool).shape.radius} + fine_cell_mm;
  const Vec3 stock = stockSizeInSetup(past.job.stock, setup);
  const SetupPoint2 low{std::max(0.0, std::min(stretch.ax, stretch.bx) - reach),
                        std::max(0.0, std::min(stretch.ay, stretch.by) - reach)};
  const SetupPoint2 high{std::min(stock.x, std::max(stretch.ax, stretch.bx) + reach),
                         std::min(stock.y, std::max(stretch.ay, stretch.by) + reach)};
  if (high.x <= low.x || high.y <= low.y) return {};
  const CloseUpPlace place = placeOf(past, low, high - low, motion);
  std::size_t motions = 0;
  for (const std::vector<Motion>& there : place.motions) motions += there.size();
  if (motions == 0) return {};
  const double wanted =
      std::max(fine_cell_mm, cheapCell_mm(place, max_cost / (isCostly(past, place) ? cost_by_pieces : 1)));
  if (wanted > coarse_mm / 2) return {};
  const Vec2 cell{place.size_mm.x / std::ceil(place.size_mm.x / wanted),
                  place.size_mm.y / std::ceil(place.size_mm.y / wanted)};
  DexelField field = closeUp(past, place, cell);
  Setup shifted = setup;
  shifted.zero_mm.x -= low.x;
  shifted.zero_mm.y -= low.y;
  std::vector<Motion> come;
  for (const Sweep& s : before) come.push_back(motionAlong(s, setup, rapid));
  cutProgram(field, past.cutters, past.job, shifted, come, {.measured = false});
  const Motion now = motionAlong(stretch, setup, rapid);
  const DexelField untouched = field;
  MoveCut cut = cutProgram(field, past.cutters, past.job, shifted, std::span(&now, 1)).cuts.front();
  const double radius_mm = double{past.cutters.at(rapid.tool).shape.radius};
  if (cut.section_mm2 > 0) {
    measureSwath(untouched, field, stretch, low, radius_mm, cut);
  } else if (cut.bite_mm > least_depth_mm) {
    // Along a wall the raster's rounding adds up to more than a shaved rim.
    cut.plan_mm2 = static_cast<float>(takenAtCentres_mm3(untouched, field)) / cut.bite_mm;
  }
  return cut;
}

void addStretch(const MoveCut& stretch, MoveCut& sum) {
  sum.removed_mm3 += stretch.removed_mm3;
  sum.axial_depth_mm = std::max(sum.axial_depth_mm, stretch.axial_depth_mm);
  sum.bite_mm = std::max(sum.bite_mm, stretch.bite_mm);
  sum.engaged_mm += stretch.engaged_mm;
  sum.plan_mm2 += stretch.plan_mm2;
  sum.max_radial_depth_mm = std::max(sum.max_radial_depth_mm, stretch.max_radial_depth_mm);
  if (stretch.section_mm2 <= sum.section_mm2) return;
  sum.section_mm2 = stretch.section_mm2;
  sum.section_height_mm = stretch.section_height_mm;
  sum.radial_depth_mm = stretch.radial_depth_mm;
}

MoveCut lookAlong(const PastCuts& past, const Rapid& rapid, double coarse_mm, double max_cost) {
  const Motion& motion = past.programs.back().program->motions[rapid.motion];
  const double stretch_mm = std::max(4 * double{past.cutters.at(motion.tool).shape.radius}, 5.0);
  double stretches = 0;
  const auto stretchesOf = [&](const Sweep& s) { return std::max(1.0, std::ceil(planLength_mm(s) / stretch_mm)); };
  for (const Sweep& s : rapid.sweeps) stretches += stretchesOf(s);
  MoveCut all;
  std::vector<Sweep> before;
  for (const Sweep& sweep : rapid.sweeps) {
    const double steps = stretchesOf(sweep);
    for (double k = 0; k < steps; ++k) {
      const Sweep stretch = part(sweep, k / steps, (k + 1) / steps);
      addStretch(lookAt(past, rapid.motion, before, stretch, coarse_mm, max_cost / stretches), all);
      if (before.size() > 1) before.erase(before.begin());
      before.push_back(stretch);
    }
  }
  return all;
}

}  // namespace

void lookCloserAtRapids(const PastCuts& past, Vec2 cell_mm, std::vector<MoveCut>& cuts) {
  const PastCut& program = past.programs.back();
  const double coarse_mm = std::min(cell_mm.x, cell_mm.y);
  std::vector<Rapid> doubtful;
  std::vector<Sweep> sweeps;
  for (std::uint32_t m = 0; m < cuts.size(); ++m) {
    const Motion& motion = program.program->motions[m];
    if (motion.kind != MotionKind::rapid || !past.cutters.contains(motion.tool)) continue;
    if (motion.flags & (motion_start_unknown | motion_height_unknown)) continue;
    sweeps.clear();
    appendSweeps(motion, m, *program.setup, past.job.machine, fine_cell_mm, sweeps);
    if (sweeps.empty()) continue;
    const auto isLow = [&](const Sweep& s) {
      return std::min(s.a_tip, s.b_tip) < static_cast<float>(past.job.stock.size_mm.z);
    };
    if (std::none_of(sweeps.begin(), sweeps.end(), isLow)) continue;
    double plan_mm = 0;
    for (const Sweep& s : sweeps) plan_mm += planLength_mm(s);
    const double climb_mm = double{sweeps.back().b_tip} - double{sweeps.front().a_tip};
    const double diameter_mm = 2 * double{past.cutters.at(motion.tool).shape.radius};
    if (isSeenRoughly(cuts[m], climb_mm, plan_mm, coarse_mm, diameter_mm) ||
        mayMeetUnseenWall(past, cuts[m], m, sweeps))
      doubtful.push_back({m, sweeps});
  }
  const double share = max_cell_cuts / static_cast<double>(std::max<std::size_t>(1, doubtful.size()));
  tbb::parallel_for(std::size_t{0}, doubtful.size(), [&](std::size_t k) {
    const MoveCut seen = lookAlong(past, doubtful[k], coarse_mm, share);
    MoveCut& cut = cuts[doubtful[k].motion];
    constexpr float same_mm = 0.01F;
    if (seen.bite_mm <= least_depth_mm || seen.bite_mm < cut.bite_mm - same_mm) return;
    const MoveCut before = cut;
    cut = seen;
    if (before.removed_mm3 > 0) cut.removed_mm3 = before.removed_mm3;  // what the stock has lost
    cut.broken_mm = before.broken_mm;
    cut.centre_depth_mm = before.centre_depth_mm;
    cut.ends_above_mm = before.ends_above_mm;
  });
}

}  // namespace provecut::cutting
