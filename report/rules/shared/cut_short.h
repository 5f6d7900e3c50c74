// Cuts that were to go through the stock and end just above its underside.
#pragma once

#include <cstddef>
#include <vector>

#include "report/facts/facts.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

// Thinner than a skin that somebody leaves on purpose, mm. Common practice, no published source.
inline constexpr double least_meant_skin_mm = 0.2;

// What such a cut leaves at most: where other stock was measured, how much thicker it is than the job file says; else
// the skin between a part's tabs, or less than a skin that is meant. 0: the program is not to go through, or its cuts
// are in doubt within the tolerance that the job gives (not-through).
double shortCutLimit_mm(const Facts& facts, std::size_t program);

// Does it go through by so little that a foil may stay, whatever the sheet's thickness?
bool mayLeaveFoil(const DoubtfulThrough& doubt);

// Does it end at the stock's underside where a first job file guessed the thickness? It takes the deepest cut for it,
// so that tells nothing.
bool endsAtGuessedThickness(const Facts& facts, const DoubtfulThrough& doubt);

// The moves with their skins as amounts; what a later move of the setup cuts through is left out.
std::vector<Occurrence> cutsThatFallShort(const Facts& facts, std::size_t program);

}  // namespace provecut
