#include "report/formats/data/quote_json.h"

#include <nlohmann/json.hpp>
#include <ostream>

namespace provecut {
namespace {

using Json = nlohmann::ordered_json;

// The nearest double is written back as the same two places (up to fifteen digits).
Json amount(Cents c) {
  return static_cast<double>(c.value) / 100;
}

Json jobJson(const QuotedJob& job) {
  return {{"job", job.name},
          {"complete", job.too_short.empty()},
          {"not_checked", job.too_short},
          {"quote", quoteJson(job.quotation, job.time)}};
}

}  // namespace

Json quoteJson(const Quotation& q, const clock::TimeAssumptions& time) {
  Json quote = {{"currency", q.currency}, {"parts_per_stock", q.parts_per_stock}};
  quote["lines"] = Json::array();
  for (const QuantityPrice& p : q.prices) {
    Json line = {{"quantity", p.quantity},           {"each", amount(p.each)},
                 {"total", amount(p.total)},         {"cost", amount(p.cost)},
                 {"price", amount(p.price)},         {"tax", amount(p.tax)},
                 {"low_price", amount(p.low_price)}, {"high_price", amount(p.high_price)},
                 {"rounding", amount(p.rounding)},   {"stock_pieces", p.stock_pieces}};
    if (p.whole_pieces_price) line["whole_pieces_price"] = amount(*p.whole_pieces_price);
    line["costs"] = Json::array();
    for (std::size_t i = 0; i < q.lines.size(); ++i)
      line["costs"].push_back({{"name", q.lines[i].name},
                               {"working", q.lines[i].working},
                               {"once", q.lines[i].once},
                               {"amount", amount(p.lines[i])}});
    quote["lines"].push_back(std::move(line));
  }
  quote["assumed"] = q.assumptions;
  quote["time_assumed"] = {{"time", time.time}, {"low", time.low}, {"high", time.high}};
  return quote;
}

void writeQuoteJson(std::span<const QuotedJob> jobs, std::ostream& out) {
  Json j = {{"provecut", 1}};
  if (jobs.size() == 1) {
    j.update(jobJson(jobs[0]));
  } else {
    j["jobs"] = Json::array();
    for (const QuotedJob& job : jobs) j["jobs"].push_back(jobJson(job));
    j["totals"] = Json::array();
    for (const QuoteSum& s : quoteSums(jobs))
      j["totals"].push_back(
          {{"quantity", s.quantity}, {"price", amount(s.price)}, {"tax", amount(s.tax)}, {"total", amount(s.total)}});
  }
  out << j.dump(2, ' ', false, Json::error_handler_t::replace) << '\n';
}

}  // namespace provecut
