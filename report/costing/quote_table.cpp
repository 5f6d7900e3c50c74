#include "report/costing/quote_table.h"

#include <algorithm>
#include <functional>
#include <utility>

namespace provecut {

std::vector<QuoteRow> quoteRows(const Quotation& q) {
  std::vector<QuoteRow> rows;
  const auto add = [&](QuoteRow::Kind kind, std::string name, std::string working,
                       const std::function<std::string(const QuantityPrice&)>& amount) {
    QuoteRow& row = rows.emplace_back();
    row.kind = kind;
    row.name = std::move(name);
    row.working = std::move(working);
    for (const QuantityPrice& p : q.prices) row.amounts.push_back(amount(p));
  };
  using enum QuoteRow::Kind;
  for (std::size_t i = 0; i < q.lines.size(); ++i)
    add(cost, q.lines[i].name, q.lines[i].working, [&](const QuantityPrice& p) { return moneyText(p.lines[i]); });
  if (std::any_of(q.prices.begin(), q.prices.end(), [](const QuantityPrice& p) { return p.rounding.value != 0; }))
    add(cost, "rounding", "each line above is rounded on its own",
        [](const QuantityPrice& p) { return moneyText(p.rounding); });
  add(sum, "cost", "", [](const QuantityPrice& p) { return moneyText(p.cost); });
  if (q.pricing.margin)
    add(cost, "margin", percentText(*q.pricing.margin) + " of the price",
        [](const QuantityPrice& p) { return moneyText(p.price - p.cost); });
  else if (q.pricing.markup)
    add(cost, "markup", percentText(*q.pricing.markup) + " of the cost",
        [](const QuantityPrice& p) { return moneyText(p.price - p.cost); });
  add(sum, "price", "", [](const QuantityPrice& p) { return moneyText(p.price); });
  if (q.pricing.tax) {
    add(cost, "tax", percentText(*q.pricing.tax) + " of the price",
        [](const QuantityPrice& p) { return moneyText(p.tax); });
    add(sum, "total", "", [](const QuantityPrice& p) { return moneyText(p.total); });
  }
  add(remark, "price each", "rounded", [](const QuantityPrice& p) { return moneyText(p.each); });
  add(remark, "price at the low time", "", [](const QuantityPrice& p) { return moneyText(p.low_price); });
  add(remark, "price at the high time", "", [](const QuantityPrice& p) { return moneyText(p.high_price); });
  if (q.parts_per_stock > 1) {
    add(remark, "pieces of stock needed", std::to_string(q.parts_per_stock) + " parts from each piece",
        [](const QuantityPrice& p) { return std::to_string(p.stock_pieces); });
    if (std::any_of(q.prices.begin(), q.prices.end(),
                    [](const QuantityPrice& p) { return p.whole_pieces_price.has_value(); }))
      add(remark, "price, whole pieces", "whole pieces of stock bought, no waste added", [](const QuantityPrice& p) {
        return p.whole_pieces_price ? moneyText(*p.whole_pieces_price) : std::string();
      });
  }
  return rows;
}

}  // namespace provecut
