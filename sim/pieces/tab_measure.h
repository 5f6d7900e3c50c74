// How long, thick and strong a web is.
#pragma once

#include <span>

#include "sim/pieces/tabs.h"

namespace provecut::pieces {

// A web between a part and something else.
struct WebShape {
  std::span<const cutting::Cell> cells;
  std::span<const cutting::Cell> part_side;  // cells of the part that lie beside it
  bool all_round = false;                    // along most of the part's outline
};

// Length, thickness and area of the section of a web that is weakest, going from the part outwards: sections are
// gathered by their distance from the part over two cells, so that the raster does not show. That of a skin all round,
// whose corners lie farther out, is the one along the part. `grain`: as TabbedSearch has it.
FoundTab measureTab(const cutting::DexelField& field, const WebShape& web, SetupDirection2 grain);

}  // namespace provecut::pieces
