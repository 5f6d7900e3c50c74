#include "report/formats/paper/quote_page.h"

#include <algorithm>
#include <ostream>
#include <string>
#include <string_view>

#include "report/base/number_text.h"
#include "report/costing/quote_table.h"
#include "report/formats/base/html_text.h"
#include "report/formats/base/table.h"
#include "report/formats/text/time_text.h"

namespace provecut {
namespace {

constexpr std::size_t quantities_beside = 5;

constexpr std::string_view style = R"(<title>Quote</title>
<style>
:root { color-scheme: light dark; --line: #767676; --soft: color-mix(in srgb, currentColor 7%, transparent); }
body { font: 1rem/1.45 system-ui, sans-serif; max-width: 54rem; margin: 2rem auto; padding: 0 1rem; }
h1 { font-size: 1.7rem; line-height: 1.2; margin: 0; overflow-wrap: anywhere; }
h2 { font-size: 1.05rem; margin: 1.8rem 0 0.5rem; }
p { margin: 0.4rem 0; }
.kind { font-size: 0.85rem; letter-spacing: 0.08em; text-transform: uppercase; margin: 0 0 0.2rem; }
.fill { display: flex; flex-wrap: wrap; gap: 0.5rem 2rem; margin: 1rem 0 0; }
.fill span { flex: 1 1 10rem; border-bottom: 1px solid var(--line); padding: 0 0 0.15rem; font-size: 0.85rem; min-height: 1.6rem; }
.warning { border: 2px solid; padding: 0.5rem 0.8rem; font-weight: 700; }
.wide { overflow-x: auto; }
.wide + .wide { margin-top: 1.5rem; }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; }
th, td { text-align: left; padding: 0.28rem 0.7rem 0.28rem 0; vertical-align: baseline; font-weight: 400; }
th.amount, td.amount { text-align: right; white-space: nowrap; padding: 0.28rem 0 0.28rem 0.7rem; }
thead th { border-bottom: 2px solid; font-size: 0.85rem; font-weight: 700; }
tbody tr { border-bottom: 1px solid var(--soft); }
tr.sum > * { border-top: 1px solid var(--line); font-weight: 700; }
tr.remark > * { font-size: 0.9rem; }
td.working { font-size: 0.9rem; min-width: 11rem; }
.price td, .price th { font-size: 1.15rem; }
.price thead th { font-size: 0.85rem; }
.price .payable { font-weight: 700; }
ul { padding-left: 1.1rem; margin: 0.3rem 0; font-size: 0.9rem; }
li { margin: 0.15rem 0; overflow-wrap: anywhere; }
section + section { border-top: 1px solid; margin-top: 2.5rem; padding-top: 2rem; }
@page { margin: 16mm 15mm; }
@media print {
  :root { color-scheme: light; font-size: 9.5pt; }
  body { margin: 0; padding: 0; max-width: none; color: #000; background: #fff; }
  .wide { overflow: visible; }
  h2 { break-after: avoid; }
  tr, li, .fill { break-inside: avoid; }
  thead { display: table-header-group; }
  section + section { break-before: page; border: 0; margin: 0; padding: 0; }
}
</style>
</head>
<body>
<main>
)";

std::string_view classOf(QuoteRow::Kind kind) {
  switch (kind) {
    case QuoteRow::Kind::cost:
      return "cost";
    case QuoteRow::Kind::sum:
      return "sum";
    case QuoteRow::Kind::remark:
      return "remark";
  }
  return {};
}

// A table that may be wider than a telephone: it scrolls by itself, with the keyboard too.
void openTable(std::string_view name, std::string_view kind, std::ostream& out) {
  out << "<div class=\"wide\" role=\"region\" aria-label=\"" << name << "\" tabindex=\"0\">\n<table class=\"" << kind
      << "\">\n";
}

void closeTable(std::ostream& out) {
  out << "</tbody>\n</table>\n</div>\n";
}

std::string priceRange(const QuantityPrice& p) {
  return moneyText(p.low_price) + " to " + moneyText(p.high_price);
}

void writePrices(const Quotation& q, std::ostream& out) {
  openTable("Prices", "price", out);
  const bool taxed = q.pricing.tax.has_value();
  out << "<thead><tr><th scope=\"col\">Quantity</th><th scope=\"col\" class=\"amount\">Each</th><th scope=\"col\" "
         "class=\"amount\">Price</th>";
  if (taxed) out << "<th scope=\"col\" class=\"amount\">Tax</th><th scope=\"col\" class=\"amount\">Total</th>";
  out << "</tr></thead>\n<tbody>\n";
  for (const QuantityPrice& p : q.prices) {
    out << "<tr><th scope=\"row\">" << p.quantity << "</th><td class=\"amount\">" << moneyText(p.each)
        << "</td><td class=\"amount" << (taxed ? "" : " payable") << "\">" << moneyText(p.price) << "</td>";
    if (taxed)
      out << "<td class=\"amount\">" << moneyText(p.tax) << "</td><td class=\"amount payable\">" << moneyText(p.total)
          << "</td>";
    out << "</tr>\n";
  }
  closeTable(out);
  out << "<p>In " << escapeHtml(q.currency) << (taxed ? "; each and price are before tax" : "; no tax") << ".</p>\n";
}

void writeList(std::span<const std::string> items, std::ostream& out) {
  out << "<ul>\n";
  for (const std::string& item : items) out << "<li>" << escapeHtml(item) << "</li>\n";
  out << "</ul>\n";
}

void writeCosts(const Quotation& q, std::ostream& out) {
  const std::vector<QuoteRow> rows = quoteRows(q);
  out << "<h2>How this price was worked out</h2>\n";
  for (std::size_t begin = 0; begin < q.prices.size(); begin += quantities_beside) {
    const std::size_t end = std::min(begin + quantities_beside, q.prices.size());
    openTable("Costs", "costs", out);
    out << "<thead><tr><th scope=\"col\">Cost</th><th scope=\"col\">Working</th>";
    for (std::size_t k = begin; k < end; ++k)
      out << "<th scope=\"col\" class=\"amount\">for " << q.prices[k].quantity << "</th>";
    out << "</tr></thead>\n<tbody>\n";
    for (const QuoteRow& row : rows) {
      out << "<tr class=\"" << classOf(row.kind) << "\"><th scope=\"row\">" << escapeHtml(row.name)
          << "</th><td class=\"working\">" << escapeHtml(row.working) << "</td>";
      for (std::size_t k = begin; k < end; ++k) out << "<td class=\"amount\">" << escapeHtml(row.amounts[k]) << "</td>";
      out << "</tr>\n";
    }
    closeTable(out);
  }
  out << "<p>If the machine needs the low or the high time, the price " << (q.pricing.tax ? "before tax " : "")
      << "is ";
  for (std::size_t k = 0; k < q.prices.size(); ++k)
    out << (k == 0 ? "" : ", ") << priceRange(q.prices[k]) << " for " << q.prices[k].quantity;
  out << ".</p>\n";
  writeList(q.assumptions, out);
}

void writeTimes(const JobTime& t, std::ostream& out) {
  out << "<h2>Machine time for one piece of stock</h2>\n";
  openTable("Machine time", "costs", out);
  out << "<thead><tr><th scope=\"col\">h:mm:ss</th><th scope=\"col\" class=\"amount\">Planned</th><th scope=\"col\" "
         "class=\"amount\">Low</th>"
         "<th scope=\"col\" class=\"amount\">High</th></tr></thead>\n<tbody>\n";
  const auto row = [&](std::string_view name, std::string_view kind, auto part) {
    if (!(part(t.time) > 0) && !(part(t.high) > 0)) return;
    out << "<tr class=\"" << kind << "\"><th scope=\"row\">" << name << "</th>";
    for (const TimeSpent* spent : {&t.time, &t.low, &t.high})
      out << "<td class=\"amount\">" << durationText(part(*spent)) << "</td>";
    out << "</tr>\n";
  };
  row(t.air_known ? "cutting" : "cutting moves", "cost", [](const TimeSpent& s) { return s.cutting_s; });
  row("cutting moves in air", "cost", [](const TimeSpent& s) { return s.air_s; });
  row("rapids", "cost", [](const TimeSpent& s) { return s.rapid_s; });
  row("dwells", "cost", [](const TimeSpent& s) { return s.dwell_s; });
  row("tool changes", "cost", [](const TimeSpent& s) { return s.tool_change_s; });
  row("spindle starts and stops", "cost", [](const TimeSpent& s) { return s.spindle_s; });
  row("program stops", "cost", [](const TimeSpent& s) { return s.stop_s; });
  row("total", "sum", [](const TimeSpent& s) { return s.total_s(); });
  closeTable(out);
}

void openSection(const QuotedJob& job, std::string_view kind, std::ostream& out) {
  out << "<section>\n<p class=\"kind\">" << kind << "</p>\n<h1>" << escapeHtml(job.name) << "</h1>\n";
}

void writeWarnings(const QuotedJob& job, std::ostream& out) {
  for (const std::string& why : job.too_short)
    out << "<p class=\"warning\">" << escapeHtml(why) << ", so the time and the price are too low.</p>\n";
}

// A page for the customer, with the price alone, and pages for the shop, with what it is made of.
void writeJob(const QuotedJob& job, std::ostream& out) {
  openSection(job, "Quote", out);
  out << "<div class=\"fill\"><span>For</span><span>Date</span></div>\n";
  writeWarnings(job, out);
  out << "<h2>Price</h2>\n";
  writePrices(job.quotation, out);
  out << "</section>\n";
  openSection(job, "Shop copy", out);
  writeWarnings(job, out);
  writeCosts(job.quotation, out);
  writeTimes(job.stock, out);
  out << "<h2>How the times were worked out</h2>\n";
  writeList(assumptionLines(job.time), out);
  out << "</section>\n";
}

void writeSums(std::span<const QuotedJob> jobs, std::ostream& out) {
  out << "<section>\n<p class=\"kind\">Quote</p>\n<h1>" << jobs.size() << " jobs, total</h1>\n";
  const std::vector<QuoteSum> sums = quoteSums(jobs);
  if (sums.empty()) {
    out << "<p>No total: the jobs share no quantity, or use different currencies.</p>\n</section>\n";
    return;
  }
  openTable("All jobs", "price", out);
  out << "<thead><tr><th scope=\"col\">Quantity of each</th><th scope=\"col\" class=\"amount\">Price</th><th "
         "scope=\"col\" class=\"amount\">Tax</th>"
         "<th scope=\"col\" class=\"amount\">Total</th></tr></thead>\n<tbody>\n";
  for (const QuoteSum& s : sums)
    out << "<tr><th scope=\"row\">" << s.quantity << "</th><td class=\"amount\">" << moneyText(s.price)
        << "</td><td class=\"amount\">" << moneyText(s.tax) << "</td><td class=\"amount payable\">"
        << moneyText(s.total) << "</td></tr>\n";
  closeTable(out);
  out << "<p>In " << escapeHtml(jobs[0].quotation.currency)
      << ": the rounded prices of the jobs, added up.</p>\n</section>\n";
}

}  // namespace

void writeQuotePage(std::span<const QuotedJob> jobs, std::ostream& out) {
  out << static_page_head << style;
  for (const QuotedJob& job : jobs) writeJob(job, out);
  if (jobs.size() > 1) writeSums(jobs, out);
  out << "</main>\n</body>\n</html>\n";
}

}  // namespace provecut
