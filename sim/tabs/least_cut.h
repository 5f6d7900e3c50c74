// The least section of the wood between a region of the stock and what it hangs on.
#pragma once

#include <vector>

#include "sim/stock/close_up.h"
#include "sim/tabs/regions.h"

namespace provecut::pieces {

// A part of the section that hangs together in plan: a web is cut there.
struct Section {
  SetupPoint at;  // in its middle, on the wood
  double area_mm2 = 0, thickness_mm = 0;
  double length_mm = 0;
  double thin_length_mm = 0, thin_mm = 0;  // of it no thicker than a skin, and how thick that is there (the median)
  double thick_length_mm = 0;              // of it clearly thicker than that: tabs in a skin
  double across_mm = 0;                    // from the whole wood on one side to that on the other, at its middle
  Vec2 across{};                           // the way across, of any length
  std::vector<cutting::Cell> web;          // dexels of the field that it goes through, or may just as well
  std::vector<cutting::Cell> about;        // all about it that are low
};

struct SectionSearch {
  const cutting::DexelField& field;
  const Regions& regions;
  const std::vector<float>& opening_distance_mm;
  const cutting::PastCuts& past;  // all that cut the field
  double reach_mm = 0;            // how far from the crossings a section may lie
};

// Of `region`, towards the regions that `beyond` names (per label; 0 is none). The dexels about a crossing that are low
// or narrow are cut once more on finer cells, and a minimum cut found in them, with contacts in sixteen directions,
// weighed so that lengths are Euclidean within 2 % (Cauchy-Crofton: Boykov and Kolmogorov, ICCV 2003). Its area is then
// measured along its own direction.
std::vector<Section> leastSections(const SectionSearch& search, Label region, const std::vector<bool>& beyond);

}  // namespace provecut::pieces
