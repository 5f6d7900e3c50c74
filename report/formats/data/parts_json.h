// The pieces of a job as JSON, in order of time: with the tree of what came off what.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "report/facts/facts.h"

namespace provecut {

// The array "parts" of the report (report/schemas/report-1.schema.json). A piece names others by their place in it.
nlohmann::ordered_json partsJson(const Facts& facts);

}  // namespace provecut
