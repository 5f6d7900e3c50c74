// The outlines of a job's pieces as SVG at true scale, for other programs.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>

#include "report/facts/facts.h"

namespace provecut {

// The stock from its own front face, 1 unit = 1 mm, Y up on the sheet. The stock is "stock", each piece "part-N": N is
// its place in the job's pieces in order of time, from 0; its title says when it was parted and what held it. Holes are
// holes. The run must have been asked for outlines.
void writeOutlineSvg(const Facts& facts, std::ostream& out);

}  // namespace provecut
