// A quotation for a terminal.
#pragma once

#include <iosfwd>
#include <span>

#include "report/costing/quoted_job.h"

namespace provecut {

// At most 100 columns; more quantities than fit go into further tables.
void writeQuoteText(std::span<const QuotedJob> jobs, bool colour, std::ostream& out);

}  // namespace provecut
