// Parts that hang: regions of the stock that little wood connects with what is held.
#pragma once

#include <functional>
#include <span>
#include <vector>

#include "sim/pieces/pieces.h"
#include "sim/stock/close_up.h"
#include "sim/tabs/regions.h"

namespace provecut::pieces {

// A tab as it was found: Tab is what is told of it.
struct FoundTab {
  SetupPoint at;
  double length_mm = 0, thickness_mm = 0, area_mm2 = 0;
  double kerf_mm = 0;
  double grain_deg = 0;
  bool along_grain = false;
  bool onion_skin = false;    // then `thickness_mm` is the skin's, whatever tabs stand in it
  bool tabs_in_skin = false;  // of an onion skin
};

struct TabbedPart {
  Label part = 0;  // its region
  PieceShape shape;
  std::vector<cutting::Cell> cells;  // its own dexels, without these low ones
  std::vector<FoundTab> tabs;
  std::vector<cutting::Cell> web_cells;  // that the tabs' sections go through, or may just as well
  std::vector<cutting::Cell> low_cells;  // these, and what is low about them
  RegionOutline outline;                 // of these dexels
};

struct TabbedSearch {
  const cutting::DexelField& before;  // as the program found it
  const cutting::DexelField& after;
  const Pieces& pieces;   // of `after`
  SetupDirection2 grain;  // of length 1 along the grain; (0, 0): none
  double kerf_mm = 0;     // of the widest cutter that may have left a web
  const cutting::PastCuts& past;
  std::span<const cutting::Cell> only{};  // parts that have any of these dexels; none given: all
};

struct TabbedParts {
  std::vector<TabbedPart> tabbed;
  // What does not hang, but has an outline that is open in places and webbed for the most.
  std::vector<TabbedPart> still_attached;
};

// Of each label of some pieces: does something hold it?
using HeldIn = std::function<std::vector<bool>(const Pieces&)>;

// The parts, without the one of each piece that counts as the rest of the stock (restOfStock; `held_in` says what
// something holds). Also those that hang since an earlier program. Tabs are only the webs that lead to something held.
TabbedParts tabbedParts(const TabbedSearch& search, const HeldIn& held_in);

// Cells of every web found, for those who must not take them for floors.
Mask webMask(const cutting::DexelField& field, const std::vector<TabbedPart>& parts);

}  // namespace provecut::pieces
