// Diameters of the number and letter drills.
#pragma once

#include <optional>

namespace provecut {

// Number 1 to 80, in mm, by the table of ASME B94.11M (twist drills); nothing for other numbers.
std::optional<double> numberDrill_mm(int number);

// Letter a to z, in mm, by the same table; nothing for other characters.
std::optional<double> letterDrill_mm(char letter);

}  // namespace provecut
