// How a cutter engages the material along a move: from what the move removed and from what stood ahead of it.
#pragma once

#include <span>
#include <vector>

#include "parser/program/motion.h"
#include "sim/observed/move_cut.h"
#include "sim/stock/engagement_section.h"

namespace provecut::cutting {

// What is known of one move once all of it was cut.
struct EngagementSection {
  double plan_mm = 0;            // its length seen from above
  float height_mm = 0;           // the maximum height above the tip of what it took, thin slices off a wall included
  float doubtful_height_mm = 0;  // the height where nothing surer is known
  float diameter_mm = 0;         // of its cutter
  bool sideways = false;         // no steeper than 45 degrees: width has a meaning
};

// Fills radial_depth_mm, max_radial_depth_mm, engaged_mm, section_mm2 and section_height_mm of a move's cut. The
// samples tell how the cross-section changes along the way; their mean is brought to removed volume over length, which
// is exact.
void measureEngagement(const EngagementSection& move, std::span<const SectionSample> samples, MoveCut& cut);

// Moves shorter than `stretch_mm` (seen from above) say little each, on a raster: each is given the mean over its
// neighbours, out to that length. `sections` and `cuts`: one per motion.
void shareShortMoves(std::span<const Motion> motions, std::span<const EngagementSection> sections, double stretch_mm,
                     std::span<MoveCut> cuts);

}  // namespace provecut::cutting
