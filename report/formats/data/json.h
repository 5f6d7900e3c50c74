// The report as JSON, version 1 (report/schemas/report-1.schema.json).
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>
#include <nlohmann/json_fwd.hpp>

#include "report/findings/report.h"

namespace provecut {

// As a value, for what holds the report among other things. Lengths in mm whatever the job's unit.
nlohmann::ordered_json reportJson(const Report& report);

void writeJson(const Report& report, std::ostream& out);

}  // namespace provecut
