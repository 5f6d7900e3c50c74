// How far from the stock's edges a screw keeps the wood from splitting: the same for what is checked and what is
// suggested.
#pragma once

#include "parser/job/job.h"

namespace provecut::placing {

// The least distances of its axis, mm, from the sides at low and high x and from those at low and high y, in the
// stock's own frame. 5 shafts, 7 from an end of the grain, half of that with a pilot hole; common practice, from
// memory. MDF and particle board burst at the edge, too: 3 shafts all round. 0 in what does not split; stock of no
// given material is taken as wood.
Vec2 screwEdge(const Stock& stock, double shaft_diameter_mm, bool pilot);

// The same for a setup, in its frame; without a pilot hole.
Vec2 screwEdgeIn(const Stock& stock, const Setup& setup, double shaft_diameter_mm);

// Between the two, towards the nearest edge of a disc: `outwards` need not be of length 1.
double roundEdge(Vec2 edge_mm, Vec2 outwards);

}  // namespace provecut::placing
