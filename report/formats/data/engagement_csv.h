// How each move meets the material and works its cutter, as CSV.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <cstddef>
#include <iosfwd>

#include "report/facts/facts.h"

namespace provecut {

// The first line: the names of the columns, with their units.
void writeEngagementHeader(std::ostream& out);

// One line per move of program `i`, in the order of `--moves`: the program's number in the job, from 1; power is at the
// cutter. What is not known is left empty, what a move does not do is 0: power, force and deflection without a
// material, deflection without a stickout.
void writeEngagement(const Facts& facts, std::size_t i, std::ostream& out);

}  // namespace provecut
