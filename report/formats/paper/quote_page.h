// A quotation as one HTML file made for print: no scripts, nothing loaded from elsewhere.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>
#include <span>

#include "report/costing/quoted_job.h"

namespace provecut {

void writeQuotePage(std::span<const QuotedJob> jobs, std::ostream& out);

}  // namespace provecut
