// Where hold-downs may go, as JSON for the page.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "report/facts/facts.h"

namespace provecut {

// For each run of programs of one setup with the same hold-downs, and each form of hold-down that is fitted there
// (where none is: each of the job, or a usual screw): the places clear of all of these programs' moves. Setup frame,
// mm.
nlohmann::ordered_json pagePlaces(const Facts& facts);

}  // namespace provecut
