// Where hold-downs may stand, for a terminal.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>

#include "report/placing/hold_down_places.h"

namespace provecut {

// At most 100 columns.
void writePlaceText(const Places& places, bool colour, std::ostream& out);

}  // namespace provecut
