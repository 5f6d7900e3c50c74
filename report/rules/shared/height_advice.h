// Heights in advice, so that they can be typed in: with their unit, and as the program's own number where the program
// is in the other unit. Rounded up, so that they are high enough.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>

#include "report/facts/facts.h"

namespace provecut {

// "Z 7.5 mm"; for a program in inches in a job in mm "Z 7.5 mm (Z0.2953 in this inch program)".
std::string heightText(const Facts& facts, std::size_t program, double z_mm);

// "raise this cycle's R to 3 mm"; for a program in the other unit "... to 3 mm (R0.1182 in this inch program)". Where a
// program uses G91, R may be an increment, so that no R is given: "raise this cycle's R until it reaches Z 3 mm".
// `line`: of the cycle, where it is told at another move; else 0.
std::string raiseRText(const Facts& facts, std::size_t program, double z_mm, std::uint32_t line = 0);

// The same for an R that is higher than it need be: "lower this cycle's R to 3 mm".
std::string lowerRText(const Facts& facts, std::size_t program, double z_mm);

// "G0 Z7.5"; for a program in the other unit "G0 Z0.2953 (7.5 mm)". A program that uses both units gets no number to
// type in, nor does one that moves before it sets its unit: "a rapid to Z 7.5 mm".
std::string rapidUpText(const Facts& facts, std::size_t program, double z_mm);

}  // namespace provecut
