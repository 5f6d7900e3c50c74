// A quotation laid out in rows, one column for each quantity: the same for the terminal and for paper.
#pragma once

#include <string>
#include <vector>

#include "report/costing/quote.h"

namespace provecut {

struct QuoteRow {
  enum class Kind { cost, sum, remark } kind = Kind::cost;
  std::string name, working;
  std::vector<std::string> amounts;  // one per quantity
};

std::vector<QuoteRow> quoteRows(const Quotation& quotation);

}  // namespace provecut
