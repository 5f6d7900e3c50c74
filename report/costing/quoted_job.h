// One job with its quotation, as every format shows it, and what several come to together.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "report/costing/quote.h"

namespace provecut {

struct QuotedJob {
  std::string name;  // as it may be shown
  Quotation quotation;
  JobTime stock;  // of one stock
  clock::TimeAssumptions time;
  std::vector<std::string> too_short;  // why the time of a program is, as it may be shown; empty: all times are known
};

// What several jobs cost together, for each quantity that all of them list; empty where their currencies differ.
struct QuoteSum {
  int quantity = 0;
  Cents price, tax, total;
};
std::vector<QuoteSum> quoteSums(std::span<const QuotedJob> jobs);

}  // namespace provecut
