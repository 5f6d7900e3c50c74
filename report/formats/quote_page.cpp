#include "report/formats/quote_page.h"

#include <ostream>
#include <string>
#include <string_view>

#include "report/quote_table.h"

namespace provecut {
namespace {

std::string escaped(std::string_view text) {
  std::string out;
  for (char c : text) {
    switch (c) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      case '\'': out += "&#39;"; break;
      default: out += c;
    }
  }
  return out;
}

constexpr std::string_view head = R"(<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Quote</title>
<style>
:root { color-scheme: light dark; }
body { font: 1rem/1.45 system-ui, sans-serif; max-width: 56rem; margin: 2rem auto; padding: 0 1rem; }
h1 { font-size: 1.5rem; margin: 0 0 1rem; }
section + section { border-top: 1px solid; margin-top: 2rem; padding-top: 2rem; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; }
th, td { text-align: left; padding: 0.3rem 0.6rem; vertical-align: top; }
th.amount, td.amount { text-align: right; white-space: nowrap; }
thead th { border-bottom: 2px solid; }
tr.sum > * { border-top: 1px solid; font-weight: 700; }
tr.remark > * { font-weight: 400; opacity: 0.85; }
ul { padding-left: 1.2rem; }
@media print { body { margin: 0; max-width: none; font-size: 11pt; } section { break-after: page; border: 0; } section:last-of-type { break-after: auto; } }
</style>
</head>
<body>
<main>
)";

std::string_view classOf(QuoteRow::Kind kind) {
  switch (kind) {
    case QuoteRow::Kind::cost: return "cost";
    case QuoteRow::Kind::sum: return "sum";
    case QuoteRow::Kind::remark: return "remark";
  }
  return {};
}

void writeList(std::string_view before, const std::vector<std::string>& items, std::ostream& out) {
  for (const std::string& item : items) out << "<li>" << before << escaped(item) << "</li>\n";
}

void writeJob(const QuotedJob& job, std::ostream& out) {
  const Quotation& q = job.quotation;
  out << "<section>\n<h1>" << escaped(job.name) << ": quote in " << escaped(q.currency) << "</h1>\n";
  if (!job.complete) out << "<p><strong>A program could not be read whole: its time is too short, and so is the price.</strong></p>\n";
  out << "<div class=\"wide\" role=\"region\" aria-label=\"Costs and prices\" tabindex=\"0\">\n<table>\n<thead><tr><th scope=\"col\">Cost</th><th scope=\"col\">Working</th>";
  for (const QuantityPrice& p : q.prices) out << "<th scope=\"col\" class=\"amount\">for " << p.quantity << "</th>";
  out << "</tr></thead>\n<tbody>\n";
  for (const QuoteRow& row : quoteRows(q)) {
    out << "<tr class=\"" << classOf(row.kind) << "\"><th scope=\"row\">" << escaped(row.name) << "</th><td>" << escaped(row.working) << "</td>";
    for (const std::string& amount : row.amounts) out << "<td class=\"amount\">" << escaped(amount) << "</td>";
    out << "</tr>\n";
  }
  out << "</tbody>\n</table>\n</div>\n<h2>Assumed</h2>\n<ul>\n";
  writeList("", q.assumptions, out);
  writeList("the time: ", job.time.time, out);
  writeList("the low time: ", job.time.low, out);
  writeList("the high time: ", job.time.high, out);
  out << "</ul>\n</section>\n";
}

}  // namespace

void writeQuotePage(std::span<const QuotedJob> jobs, std::ostream& out) {
  out << head;
  for (const QuotedJob& job : jobs) writeJob(job, out);
  if (jobs.size() > 1) {
    out << "<section>\n<h1>" << jobs.size() << " jobs together</h1>\n<table>\n<thead><tr><th scope=\"col\" class=\"amount\">For</th><th scope=\"col\" class=\"amount\">Price</th>"
           "<th scope=\"col\" class=\"amount\">Tax</th><th scope=\"col\" class=\"amount\">Total</th></tr></thead>\n<tbody>\n";
    for (const QuoteSum& s : quoteSums(jobs))
      out << "<tr><td class=\"amount\">" << s.quantity << "</td><td class=\"amount\">" << moneyText(s.price) << "</td><td class=\"amount\">"
          << moneyText(s.tax) << "</td><td class=\"amount\">" << moneyText(s.total) << "</td></tr>\n";
    out << "</tbody>\n</table>\n</section>\n";
  }
  out << "</main>\n</body>\n</html>\n";
}

}  // namespace provecut
