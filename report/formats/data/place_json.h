// Where hold-downs may stand as JSON, version 1 (report/schemas/place-1.schema.json; mm).
#pragma once

#include <iosfwd>

#include "report/placing/hold_down_places.h"

namespace provecut {

void writePlaceJson(const Places& places, std::ostream& out);

}  // namespace provecut
