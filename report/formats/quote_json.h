// A quotation as JSON, version 1. Amounts are decimal numbers with at most two places.
#pragma once

#include <iosfwd>
#include <span>

#include "report/formats/quote_text.h"

namespace provecut {

void writeQuoteJson(std::span<const QuotedJob> jobs, std::ostream& out);

}  // namespace provecut
