// Findings as SARIF 2.1.0 (OASIS standard, 27 March 2020), for tools that show them beside the programs' text.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>

#include "report/findings/report.h"

namespace provecut {

// stop is an error, look a warning, note a note. Columns count code points. Paths are relative to where the job file's
// own name is. Accepted findings are suppressed results; what was not checked is a notification of the invocation.
void writeSarif(const Report& report, std::ostream& out);

}  // namespace provecut
