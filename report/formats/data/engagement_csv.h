// How each move meets the material and works its cutter, as CSV.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <cstddef>
#include <iosfwd>

#include "report/facts/facts.h"

namespace provecut {

// The first line, with the names of the columns:
// entry,line,kind,tool,removed,axial,engaged,radial_mean,max_radial,speed,chip_load,max_chip_thickness,
// removal_rate,power,force,deflection
void writeEngagementHeader(std::ostream& out);

// One line per move of program `i`, in the order of `--moves`: mm, mm3, mm/min, mm3/min, W (at the cutter), N. `entry`
// is the program's number in the job, from 1. What is not known is left empty, what a move does not do is 0: power,
// force and deflection without a material, deflection without a stick-out.
void writeEngagement(const Facts& facts, std::size_t i, std::ostream& out);

}  // namespace provecut
