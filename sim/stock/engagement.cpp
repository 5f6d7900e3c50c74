#include "sim/stock/engagement.h"

#include <algorithm>

namespace provecut::cutting {

namespace {

// Less than this share of the largest engagement area is the raster's rounding along a finished wall, not a cut.
constexpr double least_share = 0.02;

double width(double area_mm2, double height_mm, float diameter_mm) {
  return height_mm > 0 ? std::min(area_mm2 / height_mm, double{diameter_mm}) : 0;
}

// A pass in an old slot grazes the slot's walls on the raster. Where what it takes off elsewhere, at the cutter's
// width, is enough for all that it removed, the walls are not cut.
float cutHeight(const MoveCut& cut, double area_mm2, float height_mm, float diameter_mm) {
  constexpr double volumes = 1.03;  // those of a slot's edges come from cells
  constexpr float raster = 1.25F;   // a point's deepest bite is between two dexels
  const bool enough = area_mm2 <= volumes * double{cut.bite_mm} * double{diameter_mm};
  return enough && height_mm > raster * cut.bite_mm ? cut.bite_mm : height_mm;
}

// The same cross-section all along.
void setEven(const EngagementSection& move, double area_mm2, float height_mm, MoveCut& cut) {
  cut.engaged_mm = static_cast<float>(move.plan_mm);
  cut.section_mm2 = static_cast<float>(area_mm2);
  cut.section_height_mm = height_mm;
  cut.radial_depth_mm = cut.max_radial_depth_mm = static_cast<float>(width(area_mm2, height_mm, move.diameter_mm));
}

}  // namespace

void measureEngagement(const EngagementSection& move, std::span<const SectionSample> samples, MoveCut& cut) {
  if (!move.sideways || move.plan_mm <= 0 || cut.removed_mm3 <= 0 || move.height_mm <= 0) return;
  const double mean = cut.removed_mm3 / move.plan_mm;
  const float max_height_mm = cutHeight(cut, mean, move.height_mm, move.diameter_mm);
  const auto height = [&](const SectionSample& s) {
    return s.height_mm > 0 ? std::min(s.height_mm, max_height_mm) : max_height_mm;
  };
  // Cells that are partly cut already stand higher than what of them is in the way: no more than the cutter can be.
  const auto ahead = [&](const SectionSample& s) {
    return std::min(double{s.area_mm2}, double{height(s)} * double{move.diameter_mm});
  };
  double seen = 0, weights = 0, in_material = 0;
  for (const SectionSample& s : samples) {
    seen += ahead(s) * double{s.weight_mm};
    weights += s.weight_mm;
    if (s.area_mm2 > 0) in_material += s.weight_mm;
  }
  if (weights <= 0 || seen <= 0) {
    setEven(move, mean, max_height_mm, cut);
    return;
  }
  // More was removed than stood ahead: a ramp takes it from below, wherever it is in the material.
  const double missing = mean * weights - seen;
  const double shift = missing / (missing > 0 && in_material > 0 ? in_material : weights);
  const auto area = [&](const SectionSample& s) { return s.area_mm2 > 0 ? std::max(0.0, ahead(s) + shift) : 0.0; };
  double max_area = 0;
  for (const SectionSample& s : samples) {
    if (area(s) <= max_area) continue;
    max_area = area(s);
    cut.section_height_mm = height(s);
  }
  cut.section_mm2 = static_cast<float>(max_area);
  double engaged = 0, face = 0, widest = 0;
  for (const SectionSample& s : samples) {
    if (area(s) <= least_share * max_area) continue;
    widest = std::max(widest, width(area(s), height(s), move.diameter_mm));
    engaged += s.weight_mm;
    face += double{s.weight_mm} * double{height(s)};
  }
  cut.engaged_mm = static_cast<float>(engaged * move.plan_mm / weights);
  cut.max_radial_depth_mm = static_cast<float>(widest);
  cut.radial_depth_mm =
      static_cast<float>(std::min(width(cut.removed_mm3 * weights / move.plan_mm, face, move.diameter_mm), widest));
}

void shareShortMoves(std::span<const Motion> motions, std::span<const EngagementSection> sections, double stretch_mm,
                     std::span<MoveCut> cuts) {
  const auto belongs = [&](std::size_t i, std::size_t to) {
    const bool alike = (motions[i].kind == MotionKind::rapid) == (motions[to].kind == MotionKind::rapid);
    return sections[i].sideways && sections[i].plan_mm > 0 && motions[i].tool == motions[to].tool && alike;
  };
  for (std::size_t i = 0; i < motions.size(); ++i) {
    const EngagementSection& own = sections[i];
    if (!own.sideways || own.plan_mm <= 0 || own.plan_mm >= stretch_mm || cuts[i].removed_mm3 <= 0) continue;
    double length = own.plan_mm, removed = cuts[i].removed_mm3;
    float height = own.height_mm, doubtful = own.doubtful_height_mm;
    const auto take = [&](std::size_t k) {
      length += sections[k].plan_mm;
      removed += cuts[k].removed_mm3;
      height = std::max(height, sections[k].height_mm);
      doubtful = std::max(doubtful, sections[k].doubtful_height_mm);
    };
    for (std::size_t before = i, after = i + 1; length < stretch_mm;) {
      const bool back = before > 0 && belongs(before - 1, i), on = after < motions.size() && belongs(after, i);
      if (!back && !on) break;
      if (back) take(--before);
      if (on) take(after++);
    }
    if (height <= 0) height = doubtful;
    if (height > 0) setEven(own, removed / length, height, cuts[i]);
  }
}

}  // namespace provecut::cutting
