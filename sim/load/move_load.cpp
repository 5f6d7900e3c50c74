#include "sim/load/move_load.h"

#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>

#include "sim/clock/path_limits.h"
#include "sim/tool/cutting_load.h"
#include "sim/tool/cutting_material.h"

namespace provecut {

namespace {

// Less is the raster's rounding, not a cut.
constexpr float least_height_mm = 0.01F, least_width_mm = 0.02F;

// Length of edge per mm of depth: 1 for an upright edge, more where it slants.
double edgePerDepth(const CutterShape& shape, double depth_mm) {
  switch (shape.underside) {
    case Underside::cone:
      return std::hypot(1.0, 1 / double{shape.rise});
    case Underside::ball: {
      const double r = double{shape.arc_radius}, d = std::min(depth_mm, r);
      return (r * std::acos(1 - d / r) + (depth_mm - d)) / depth_mm;
    }
    case Underside::flat:
    case Underside::bull:
    case Underside::profile:
      break;
  }
  return 1;
}

// What does not change from move to move of one tool.
struct Loaded {
  const Job& job;
  const Tool& tool;
  const Cutter& cutter;
};

void loadSideways(const Loaded& l, const Motion& m, const MoveCut& cut, double slope, MoveLoad& load) {
  const double depth = cut.section_height_mm, area = cut.section_mm2;
  const double diameter = diameterAt_mm(l.cutter.body, depth);
  if (diameter <= 0) return;
  const double rpm = m.rpm, top_feed = load.top_speed_mm_min;
  const double per_tooth = chipLoad_mm(top_feed, rpm, l.tool.flutes);
  load.max_chip_thickness_mm = static_cast<float>(maxChipThickness_mm(per_tooth, cut.max_radial_depth_mm, diameter));
  const double removal = area * top_feed / std::hypot(1.0, slope);
  load.removal_mm3_min = static_cast<float>(removal);
  if (!l.job.stock.material_given) return;
  CuttingForce force = cuttingForce(l.job.stock.material);
  force.per_edge_n_mm *= edgePerDepth(l.cutter.shape, depth);
  const double width = std::min(area / depth, diameter);
  load.power_w =
      static_cast<float>(cuttingPower_w(specificEnergy_j_cm3(force, meanChip_mm(per_tooth, width, diameter)), removal));
  const double teeth = teethInCut(l.tool.flutes, engagementAngle_rad(width, diameter));
  const double newtons =
      toothForce_n(force, depth, maxChipThickness_mm(per_tooth, width, diameter)) * std::max(1.0, teeth);
  load.force_n = static_cast<float>(newtons);
  load.deflection_mm =
      static_cast<float>(newtons * compliance_mm_n(l.cutter.body, depth / 2, modulus_n_mm2(l.tool.shape)));
}

void loadDownwards(const Loaded& l, const Motion& m, MoveLoad& load) {
  load.max_chip_thickness_mm = static_cast<float>(chipLoad_mm(load.top_speed_mm_min, m.rpm, l.tool.flutes));
  if (l.job.stock.material_given) {
    load.power_w = static_cast<float>(cuttingPower_w(usualEnergy_j_cm3(l.job.stock.material), load.removal_mm3_min));
  }
}

MoveLoad moveLoad(const Loaded& l, const Motion& m, const MoveCut& cut, double length_mm, double slope, float seconds,
                  float peak_mm_s) {
  MoveLoad load;
  load.speed_mm_min = static_cast<float>(length_mm * 60 / seconds);
  load.top_speed_mm_min = std::max(60 * peak_mm_s, load.speed_mm_min);
  load.chip_load_mm = static_cast<float>(chipLoad_mm(load.speed_mm_min, m.rpm, l.tool.flutes));
  load.removal_mm3_min = cut.removed_mm3 * 60 / seconds;
  if (cut.section_mm2 > 0) {
    loadSideways(l, m, cut, slope, load);
  } else {
    loadDownwards(l, m, load);
  }
  return load;
}

bool loads(const Motion& m, const MoveCut& cut, float seconds) {
  if (m.kind != MotionKind::feed && !isArc(m)) return false;
  if (m.spindle == Spindle::off || m.rpm <= 0 || cut.removed_mm3 <= 0 || seconds <= 0) return false;
  return cut.section_mm2 > 0 ? cut.section_height_mm > least_height_mm && cut.max_radial_depth_mm > least_width_mm
                             : cut.bite_mm > least_height_mm;
}

}  // namespace

std::vector<MoveLoad> moveLoads(const Job& job, const Cutters& cutters, std::span<const Motion> motions,
                                std::span<const MoveCut> cuts, const clock::Plan& plan) {
  std::vector<MoveLoad> all(motions.size());
  const clock::AxisLimits axes = clock::axisLimits(job.machine);
  tbb::parallel_for(
      tbb::blocked_range<std::size_t>(0, motions.size(), 4096), [&](const tbb::blocked_range<std::size_t>& range) {
        const Tool* tool = nullptr;
        auto cutter = cutters.end();
        for (std::size_t i = range.begin(); i < range.end(); ++i) {
          const Motion& m = motions[i];
          if (!loads(m, cuts[i], plan.move_s[i])) continue;
          if (!tool || tool->number != m.tool) {
            tool = findTool(job, m.tool);
            cutter = cutters.find(m.tool);
          }
          if (!tool || cutter == cutters.end()) continue;
          const double length_mm = isArc(m) ? clock::movePath(m, axes, 0).length_mm : length(m.end - m.start);
          const double rise = std::fabs(m.end.z - m.start.z),
                       plan_mm = std::sqrt(std::max(0.0, length_mm * length_mm - rise * rise));
          all[i] = moveLoad({job, *tool, cutter->second}, m, cuts[i], length_mm, plan_mm > 0 ? rise / plan_mm : 0,
                            plan.move_s[i], plan.peak_mm_s.empty() ? 0 : plan.peak_mm_s[i]);
        }
      });
  return all;
}

}  // namespace provecut
