// The job on one screen, below its findings: verdict, programs, parts, what was not checked, and the usual caution.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>

#include "report/findings/report.h"

namespace provecut {

// Whether every move of the program at a feed has a tool of the job, so that it was cut.
bool allToolsKnown(const Job& job, const Program& program);

void writeSummary(const Report& report, bool colour, std::ostream& out);

}  // namespace provecut
