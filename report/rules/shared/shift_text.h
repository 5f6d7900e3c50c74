// A way in the plan, in words.
#pragma once

#include <string>
#include <string_view>

#include "parser/job/job.h"

namespace provecut {

// "2.5 mm to the left and 3 mm to the back"; `how` goes before each direction: "12 mm too far to the right". Empty for
// less than a two-hundredth of a millimetre.
std::string shiftText(const Job& job, Vec2 shift_mm, std::string_view how = {});

}  // namespace provecut
