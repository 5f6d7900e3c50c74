// A quotation for a terminal.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>
#include <span>

#include "report/costing/quoted_job.h"

namespace provecut {

// At most 100 columns; more quantities than fit go into further tables.
void writeQuoteText(std::span<const QuotedJob> jobs, bool colour, std::ostream& out);

}  // namespace provecut
