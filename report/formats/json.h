// The report as JSON, version 1 (report/schemas/report-1.schema.json).
#pragma once

#include <iosfwd>

#include "report/report.h"

namespace provecut {

// Lengths in mm whatever the job's unit.
void writeJson(const Report& report, std::ostream& out);

}  // namespace provecut
