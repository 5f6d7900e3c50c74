// The stock divided where little wood is left: where it is low or narrow near a cut that goes through.
#pragma once

#include <utility>
#include <vector>

#include "sim/pieces/pieces.h"

namespace provecut::pieces {

// Wood is narrow where it is no wider than this between two kerfs (our estimate, no source).
inline constexpr double neck_mm = 6;

// A skin this thin is a web even where nothing beside it is cut through (common practice, no source: 0.2 to 0.8 mm).
inline constexpr float skin_mm = 1.0F;

// A thin web along at least this share of a part's outline is an onion skin, whatever tabs stand in it.
inline constexpr double skin_share = 0.5;

// The next three: our estimates, no source. At least this share of what hangs is open, or it does not hang but stands
// in a pocket.
inline constexpr double least_open_share = 0.25;
// Of an outline that is less open only webs up to this share of the stock count (common practice: tabs of a quarter to
// a half).
inline constexpr double thin_web_share = 0.6;
// More wood than this share of the whole outline's is part of the design.
inline constexpr double most_wood_share = 0.3;

// An outline in plan, along the sides of dexels.
struct RegionOutline {
  double open_mm = 0;  // cut through
  double web_mm = 0;   // wood goes on to other regions
  double web_mm2 = 0;  // and how much
  double thin_mm = 0;  // of that way: no thicker than a skin
};

inline double length_mm(const RegionOutline& o) {
  return o.open_mm + o.web_mm;
}

// Two dexels side by side that touch, of two regions.
struct Crossing {
  cutting::Cell inner = 0, outer = 0;
};

struct Regions {
  Pieces apart;                        // each region as if it were a piece; those that none divides are pieces
  std::vector<RegionOutline> outline;  // per region
  std::vector<std::vector<Crossing>> crossings;  // per region, into others
};

// True if what has this outline could hang on its webs.
bool couldHang(const RegionOutline& outline, double mean_thickness_mm, double stock_mm);

// How far the dexels within half a neck of an opening are from it, from centre to centre, mm; others: infinite.
std::vector<float> openingDistances(const cutting::DexelField& field);

// Dexels join in the order of how much wood connects them, by its height and its width. Where two regions meet of which
// each has more wood than joins them, they stay apart if the smaller could hang on the other: much of its outline is
// open, or what connects it is a skin.
Regions regionsOf(const cutting::DexelField& field, const std::vector<float>& opening_distance_mm);

}  // namespace provecut::pieces
