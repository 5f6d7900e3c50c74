#include "report/formats/text/quote_text.h"

#include <algorithm>
#include <ostream>

#include "report/base/number_text.h"
#include "report/base/visible_text.h"
#include "report/costing/quote_table.h"
#include "report/formats/base/table.h"
#include "report/formats/base/terminal.h"
#include "report/formats/text/time_text.h"

namespace provecut {
namespace {

constexpr std::size_t working_cells = 40;

std::string headOf(const QuantityPrice& p) {
  return "for " + std::to_string(p.quantity);
}

// One past the last of the quantities from `begin` that fit beside each other; at least one.
std::size_t endOfTable(const std::vector<QuoteRow>& rows, const Quotation& q, std::size_t begin) {
  constexpr std::size_t max_beside = 3;
  std::size_t names = 0;
  for (const QuoteRow& row : rows) names = std::max(names, displayWidth(row.name));
  std::size_t columns = 2 + names + 2 + working_cells, end = begin;
  for (; end < std::min(begin + max_beside, q.prices.size()); ++end) {
    std::size_t amounts = headOf(q.prices[end]).size();
    for (const QuoteRow& row : rows) amounts = std::max(amounts, row.amounts[end].size());
    columns += 2 + amounts;
    if (columns > terminal_columns && end > begin) break;
  }
  return end;
}

void writeQuantities(const std::vector<QuoteRow>& rows, const Quotation& q, std::size_t begin, std::size_t end,
                     bool colour, std::ostream& out) {
  Table table{{false, false}, {{"cost", "working"}}};
  for (std::size_t k = begin; k < end; ++k) {
    table.to_the_right.push_back(true);
    table.rows[0].push_back(headOf(q.prices[k]));
  }
  for (const QuoteRow& row : rows) {
    const auto working = wrapped(row.working, working_cells, working_cells);
    std::vector<std::string> cells{row.name, working.front()};
    cells.insert(cells.end(), row.amounts.begin() + begin, row.amounts.begin() + end);
    table.rows.push_back(cells);
    for (std::size_t w = 1; w < working.size(); ++w) {
      table.rows.push_back({"", working[w]});
    }
  }
  writeTable(table, colour, out);
}

void writeJob(const QuotedJob& job, bool colour, std::ostream& out) {
  const Quotation& q = job.quotation;
  writeHeading(job.name + ": quote in " + q.currency, colour, out);
  out << '\n';
  std::vector<QuoteRow> rows = quoteRows(q);
  for (QuoteRow& row : rows) {
    for (std::string& amount : row.amounts) amount = withThousands(amount);
  }
  for (std::size_t begin = 0; begin < q.prices.size();) {
    if (begin > 0) out << '\n';
    const std::size_t end = endOfTable(rows, q, begin);
    writeQuantities(rows, q, begin, end, colour, out);
    begin = end;
  }
  out << '\n' << painted("  how this price was worked out", Ink::faint, colour) << '\n';
  for (const std::string& a : q.assumptions) writeWrapped("- " + a, 2, out);
  for (const std::string& line : assumptionLines(job.time)) writeWrapped("- " + line, 2, out);
  for (const std::string& why : job.too_short) {
    out << '\n';
    writeWrapped(why + ", so the time and the price are too low. Run provecut check for details.", 2, out);
  }
}

}  // namespace

void writeQuoteText(std::span<const QuotedJob> jobs, bool colour, std::ostream& out) {
  for (std::size_t i = 0; i < jobs.size(); ++i) {
    if (i > 0) out << '\n';
    writeJob(jobs[i], colour, out);
  }
  if (jobs.size() < 2) return;
  out << '\n';
  writeHeading(std::to_string(jobs.size()) + " jobs, total", colour, out);
  out << '\n';
  const std::vector<QuoteSum> sums = quoteSums(jobs);
  if (sums.empty()) {
    writeWrapped("No total: the jobs share no quantity, or use different currencies.", 2, out);
    return;
  }
  Table table{{true, true, true, true}, {{"for", "price", "tax", "total"}}};
  for (const QuoteSum& s : sums)
    table.rows.push_back({std::to_string(s.quantity), withThousands(moneyText(s.price)),
                          s.tax.value != 0 ? withThousands(moneyText(s.tax)) : "", withThousands(moneyText(s.total))});
  writeTable(table, colour, out);
}

}  // namespace provecut
