// A quotation as JSON, version 1 (report/schemas/quote-1.schema.json). Amounts are decimal numbers with at most two
// places.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>
#include <nlohmann/json_fwd.hpp>
#include <span>

#include "report/costing/quoted_job.h"

namespace provecut {

// One quotation that can be counted, its currency as it may be shown.
nlohmann::ordered_json quoteJson(const Quotation& quotation, const clock::TimeAssumptions& time);

void writeQuoteJson(std::span<const QuotedJob> jobs, std::ostream& out);

}  // namespace provecut
