// Blocks of the summary: what holds the stock and each part, program by program, and what stock that is thicker or
// thinner does. A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>

#include "report/facts/facts.h"

namespace provecut {

// One line for each program that changes what holds what; nothing for a job without hold-downs.
void writeHolding(const Facts& facts, std::ostream& out);

// For a job with a thickness tolerance: what follows the stock and what stays, setup by setup, and the webs between the
// sides.
void writeThickness(const Facts& facts, std::ostream& out);

}  // namespace provecut
