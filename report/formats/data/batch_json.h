// Several jobs checked in one run, as JSON.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>
#include <span>

#include "report/findings/report.h"

namespace provecut {

// Version 1 (report/schemas/batch-1.schema.json): "jobs" holds one report each, "counts" and "time" the sums.
void writeBatchJson(std::span<const Report> reports, std::ostream& out);

}  // namespace provecut
