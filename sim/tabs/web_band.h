// Where the section through a web may go: the dexels about a crossing of two regions that are low or narrow.
#pragma once

#include <vector>

#include "sim/tabs/least_cut.h"

namespace provecut::pieces {

// Dexels about crossings that lie together.
struct WebBand {
  std::vector<Crossing> crossings;
  std::vector<cutting::Cell> cells;
  std::size_t least_crossings = 0;  // of those that lie together
  bool narrow = false;              // as high as the wood: a neck
};

// What a dexel is to the section: nothing, between the two sides, or whole wood of either.
enum class BandSide : std::uint8_t { none, between, inner, outer };

// Groups of those whose dexels, on either side, lie side by side or corner to corner.
std::vector<std::vector<Crossing>> thatLieTogether(const cutting::DexelField& field,
                                                   const std::vector<Crossing>& crossings);

// The band of a region's crossings into others, in parts that do not touch.
std::vector<WebBand> webBands(const SectionSearch& search, Label region, const std::vector<bool>& beyond);

// A band close up: a small field whose plan counts from `low`, and what each of its dexels is.
struct BandView {
  SetupPoint2 low;
  cutting::DexelField field;
  std::vector<BandSide> side;
  double narrowest_mm = 0;  // of the cutters that came there; 0: none
  bool as_raster = false;   // not cut once more: that would take too long
};

// Of one of the bands; what belongs to the others is nothing to it.
BandView closeUpOf(const SectionSearch& search, const std::vector<WebBand>& bands, std::size_t which, Label region,
                   const std::vector<bool>& beyond);

// By how much finer the cells should be for a web that a cut goes through along so many sides of dexels.
int finerBy(const BandView& view, std::size_t sides);

// The place about some sides of a cut on cells finer by that: what is more than two dexels from them is taken for whole
// wood of the side that it fell to (`inner`: per dexel of the view).
BandView closerTo(const SectionSearch& search, const BandView& view, const Mask& inner,
                  const std::vector<Crossing>& sides, int finer);

}  // namespace provecut::pieces
