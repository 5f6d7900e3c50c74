// Where hold-downs may stand, for a terminal.
#pragma once

#include <iosfwd>

#include "report/placing/hold_down_places.h"

namespace provecut {

// At most 100 columns.
void writePlaceText(const Places& places, bool colour, std::ostream& out);

}  // namespace provecut
