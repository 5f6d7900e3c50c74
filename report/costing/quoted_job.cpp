#include "report/costing/quoted_job.h"

#include <algorithm>

namespace provecut {

std::vector<QuoteSum> quoteSums(std::span<const QuotedJob> jobs) {
  std::vector<QuoteSum> sums;
  if (jobs.empty()) return sums;
  for (std::size_t k = 0; k < jobs[0].quotation.prices.size(); ++k) {
    QuoteSum sum;
    sum.quantity = jobs[0].quotation.prices[k].quantity;
    bool all = true;
    for (const QuotedJob& job : jobs) {
      const Quotation& q = job.quotation;
      const auto found = std::find_if(q.prices.begin(), q.prices.end(),
                                      [&](const QuantityPrice& p) { return p.quantity == sum.quantity; });
      if (found == q.prices.end() || q.currency != jobs[0].quotation.currency) {
        all = false;
        break;
      }
      sum.price = sum.price + found->price;
      sum.tax = sum.tax + found->tax;
      sum.total = sum.total + found->total;
    }
    if (all) sums.push_back(sum);
  }
  return sums;
}

}  // namespace provecut
