// How far a tool must stand out of its collet, and how deep it may go with what it is.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "report/facts/facts.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

// No flutes in the collet, and neither the nut nor what hangs from the spindle lower than limits.clearance above all
// that stands, in any program, mm.
double leastStickout_mm(const Facts& facts, const Tool& tool);

// True where a cut that far below the stock's underside surely goes through: by more than a sheet may be thicker.
bool goesThroughSurely(const Facts& facts, double below_mm);

// True where the move's tip leaves no rim above its lowest point.
bool hasLevelTip(const Facts& facts, std::size_t program, const Occurrence& cut);

// The Z below which the tool may not go in these moves, where each stands in the stock by its amount; absent where one
// of them must go through the stock, or where too thin a floor or nothing at all would be left to cut.
std::optional<double> shallowerZ(const Facts& facts, std::size_t program, const std::vector<Occurrence>& deep);

}  // namespace provecut
