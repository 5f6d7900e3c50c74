// The setup sheet's plan: stock, work zero, hold-downs with their measures, where the cutter goes.
#pragma once

#include <cstddef>
#include <string>

#include "report/facts/facts.h"

namespace provecut {

// An SVG drawing at most 690 units wide; its text is never smaller than 13.4 units (10 pt in print). Measures are taken
// from the stock's front left corner, in the job's unit.
std::string setupDrawing(const Facts& facts, std::size_t setup);

}  // namespace provecut
