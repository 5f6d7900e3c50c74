// A quotation as one HTML file made for print: no scripts, nothing loaded from elsewhere.
#pragma once

#include <iosfwd>
#include <span>

#include "report/costing/quoted_job.h"

namespace provecut {

void writeQuotePage(std::span<const QuotedJob> jobs, std::ostream& out);

}  // namespace provecut
