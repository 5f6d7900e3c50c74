// What a tab bears.
#pragma once

#include "parser/job/job.h"
#include "sim/observed/pieces.h"

namespace provecut::pieces {

// Strength in bending, MPa, of material whose fibres stand at `grain_deg` to the way across the kerf: Hankinson's
// formula between bending along the fibres and tension across them (USDA Wood Handbook FPL-GTR-190, chapter 5). Without
// a species the weakest listed of the material; sheet goods and plastics have one strength.
double tabStrength_mpa(const Stock& stock, double grain_deg);

// Side load along the kerf that breaks the tab, N: a beam across the kerf, held at both ends, sigma t w^2 / (3 D),
// halved because wood holds its ends less than firmly (beam theory; the halving is an estimate). An onion skin is no
// beam: 0.
double tabSideLoad_n(const Stock& stock, const Tab& tab);

}  // namespace provecut::pieces
