// The outlines of a job's pieces as SVG at true scale, for other programs.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>

#include "report/facts/facts.h"

namespace provecut {

// The stock from its own front face, 1 unit = 1 mm, Y up on the sheet; the sheet's left and lower edge are the stock's
// left and front. A legend of the colours is above the stock. The stock is "stock", each part "part-N": N is its place
// in the job's parts in order of time, from 0; its title says what became of it. Holes are holes. The run must have
// been asked for outlines.
void writeOutlineSvg(const Facts& facts, std::ostream& out);

}  // namespace provecut
