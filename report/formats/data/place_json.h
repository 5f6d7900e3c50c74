// Where hold-downs may stand as JSON, version 1 (report/schemas/place-1.schema.json; mm).
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>

#include "report/placing/hold_down_places.h"

namespace provecut {

void writePlaceJson(const Places& places, std::ostream& out);

}  // namespace provecut
