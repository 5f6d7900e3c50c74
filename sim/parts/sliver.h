// Thin walls and posts that a program leaves standing.
#pragma once

#include <vector>

#include "parser/base/geometry.h"
#include "sim/pieces/program_cut.h"
#include "sim/stock/dexel_field.h"

namespace provecut::pieces {

// A wall is a sliver if it is thinner than this for at least the height below from its top down (common practice, no
// source: a wall three times as high as thick breaks when the bit comes by).
inline constexpr double sliver_width_mm = 1;
inline constexpr double sliver_height_mm = 3;

// A post is a sliver up to this width if it is this many times as high. Wood to both sides of the push helps a wall; a
// post has none and breaks at half the wall's height (our measure, no source). Lower ones than the height are fuzz.
inline constexpr double post_width_mm = 2;
inline constexpr double post_slenderness = 1.5;
inline constexpr double least_post_height_mm = 0.75;

// Thinner than this, about a plane's shaving, it goes with the chips; a post, that nothing holds sideways, sooner; foam
// sooner still, a bead of which is thicker (our estimates, no source).
inline constexpr double thinnest_sliver_mm = 0.15;
inline constexpr double thinnest_post_mm = 0.3;
inline constexpr double thinnest_in_foam_mm = 1;

// A sliver as it was found: Sliver is what is told of it.
struct FoundSliver {
  SetupPoint at;                      // on its top where it is thinnest
  double width_mm = 0;                // of a wall across, there; of a post the least width in plan
  double height_mm = 0;               // the maximum
  std::vector<cutting::Cell> beside;  // cells that the program cut beside it, a few
};

// Those that the program left and that did not stand before it, the tallest first. Walls shorter in plan than 3 mm
// count only where they stand free all round. The raster tells where to look; the size is measured in a close-up, to
// about 0.02 mm; less finely among very many motions and with undercut tools.
std::vector<FoundSliver> slivers(const ProgramCut& cut);

}  // namespace provecut::pieces
