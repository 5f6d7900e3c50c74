// The least section of the wood between a region of the stock and what it hangs on.
#pragma once

#include <vector>

#include "sim/pieces/regions.h"

namespace provecut::pieces {

// A part of the section that hangs together in plan: a web is cut there.
struct Section {
  std::vector<Crossing> sides;  // where it goes, from the region outwards
  double area_mm2 = 0, thickness_mm = 0;
  double across_mm = 0;            // from the whole wood on one side to that on the other, where it is nearest
  Vec2 across{};                   // the way across, of any length
  std::vector<cutting::Cell> web;  // dexels that are low or narrow, within half that way
};

struct SectionSearch {
  const cutting::DexelField& field;
  const Regions& regions;
  const std::vector<float>& opening_distance_mm;
  double reach_mm = 0;  // how far from the crossings the section may lie
};

// Of `region`, towards the regions that `beyond` names (per label; 0 is none). The section is a minimum cut (Boykov and
// Kolmogorov, IEEE PAMI 26, 2004) of the dexels about the crossings that are low or narrow; contacts in sixteen
// directions, weighed so that lengths are Euclidean within 2 % (Cauchy-Crofton: Boykov and Kolmogorov, ICCV 2003). Its
// area is then measured along its own direction, from mean heights, so that the raster hardly shows.
std::vector<Section> leastSections(const SectionSearch& search, Label region, const std::vector<bool>& beyond);

}  // namespace provecut::pieces
