#include "report/costing/quote.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <string_view>

#include "parser/base/check.h"
#include "report/base/number_text.h"

namespace provecut {
namespace {

std::string shown(double value) {
  return decimalText(exact(value));
}

// An amount as written in the job file: at least two decimals.
std::string amountText(double value) {
  const Exact e = exact(value);
  const Cents c = rounded(e);
  return Exact(c.value, 100) == e ? moneyText(c) : decimalText(e);
}

enum class Per { batch, stock, part };

std::string_view wordsOf(Per per) {
  switch (per) {
    case Per::batch:
      return "once per batch";
    case Per::stock:
      return "per piece of stock";
    case Per::part:
      return "per part";
  }
  return {};
}

std::string counted(std::size_t n, const std::string& noun) {
  return std::to_string(n) + " " + noun + (n == 1 ? "" : "s");
}

Exact priceFromCost(const Exact& cost, const Pricing& pricing) {
  if (pricing.margin) {
    const Exact rest = 1 - exact(*pricing.margin);
    CHECK(rest > 0);
    return cost / rest;
  }
  if (pricing.markup) return cost * (1 + exact(*pricing.markup));
  return cost;
}

Exact costOf(const std::vector<CostLine>& lines, int quantity) {
  Exact cost = 0;
  for (const CostLine& line : lines) cost += line.once ? line.amount : Exact(line.amount * quantity);
  return cost;
}

// A key of [quote] and its value.
struct Figure {
  std::string_view key;
  double value = 0;
};

// "setup_minutes, labour_rate": the keys without a figure.
std::string missingKeys(std::initializer_list<Figure> figures) {
  std::string keys;
  for (const Figure& f : figures) {
    if (f.value == 0) keys.append(keys.empty() ? "" : ", ").append(f.key);
  }
  return keys;
}

struct Builder {
  const Quote& quote;
  std::size_t setups;
  bool air_known;
  std::vector<std::string> free_of_cost;  // what the job file gives no cost for, with the keys that it lacks

  Exact minutesOfLabour(double minutes) const { return exact(minutes) / 60 * exact(quote.labour_rate); }
  std::string ofLabour(double minutes) const {
    return shown(minutes) + " min at " + amountText(quote.labour_rate) + " an hour";
  }
  double programmingRate() const { return quote.programming_rate.value_or(quote.labour_rate); }
  std::string atMachine(double seconds, double rate) const {
    return durationText(seconds) + " at " + amountText(rate) + " an hour";
  }

  std::vector<CostLine> lines(const TimeSpent& time) {
    free_of_cost.clear();
    const int parts = quote.parts_per_stock;
    const Figure labour{"labour_rate", quote.labour_rate};
    std::vector<CostLine> out;
    // `amount` as each part bears it, or the batch; `figures` are those of the job file that it is made of.
    const auto add = [&](std::string name, std::string working, Per per, const Exact& amount,
                         std::initializer_list<Figure> figures) {
      if (amount == 0) {
        if (const std::string keys = missingKeys(figures); !keys.empty())
          free_of_cost.push_back(name + " (" + keys + ")");
        return;
      }
      working.append(", ").append(wordsOf(per));
      if (per == Per::stock && parts > 1) working += fmt::format(", shared by {} parts", parts);
      out.push_back({std::move(name), std::move(working), per == Per::batch, amount});
    };
    add("setup", ofLabour(quote.setup_minutes), Per::batch, minutesOfLabour(quote.setup_minutes),
        {{"setup_minutes", quote.setup_minutes}, labour});
    add("programming", shown(quote.programming_minutes) + " min at " + amountText(programmingRate()) + " an hour",
        Per::batch, exact(quote.programming_minutes) / 60 * exact(programmingRate()),
        {{"programming_minutes", quote.programming_minutes}, {"programming_rate", programmingRate()}});
    const std::size_t changes = setups > 0 ? setups - 1 : 0;
    add("loading per setup", counted(setups, "setup") + " of " + ofLabour(quote.per_setup_minutes), Per::stock,
        minutesOfLabour(quote.per_setup_minutes) * static_cast<int>(setups) / parts,
        {{"per_setup_minutes", quote.per_setup_minutes}, labour});
    if (changes > 0)
      add("change of setup", counted(changes, "change") + " of " + ofLabour(quote.change_over_minutes), Per::stock,
          minutesOfLabour(quote.change_over_minutes) * static_cast<int>(changes) / parts,
          {{"change_over_minutes", quote.change_over_minutes}, labour});
    add("loading and unloading", ofLabour(quote.load_minutes), Per::stock, minutesOfLabour(quote.load_minutes) / parts,
        {{"load_minutes", quote.load_minutes}, labour});
    add("machine time", atMachine(time.total_s(), quote.machine_rate), Per::stock,
        exactSeconds(time.total_s()) / 3600 * exact(quote.machine_rate) / parts,
        {{"machine_rate", quote.machine_rate}});
    add("tool wear",
        atMachine(time.cutting_s, quote.tooling_per_hour) + (air_known ? " in the cut" : " of cutting moves"),
        Per::stock, exactSeconds(time.cutting_s) / 3600 * exact(quote.tooling_per_hour) / parts,
        {{"tooling_per_hour", quote.tooling_per_hour}});
    add("material",
        amountText(quote.material_cost) +
            (quote.material_waste > 0 ? " and " + percentText(quote.material_waste) + " waste" : ""),
        Per::stock, exact(quote.material_cost) * (1 + exact(quote.material_waste)) / parts,
        {{"material_cost", quote.material_cost}});
    add("finishing", ofLabour(quote.finishing_minutes), Per::part, minutesOfLabour(quote.finishing_minutes),
        {{"finishing_minutes", quote.finishing_minutes}, labour});
    add("consumables", "tape, paper and the like", Per::part, exact(quote.consumables_cost),
        {{"consumables_cost", quote.consumables_cost}});
    return out;
  }
};

std::vector<std::string> assumptionsOf(const Quote& quote, const JobTime& time, const Builder& builder) {
  std::vector<std::string> a;
  a.push_back(
      "Setup and programming are charged once per batch. Loading, change of setup, machine time, tool wear and "
      "material "
      "are charged per piece of stock, finishing and consumables per part.");
  if (quote.tooling_per_hour > 0)
    a.push_back(time.air_known ? "Tool wear is charged for time in the cut, not for air moves."
                               : "The cut is not known, so tool wear is charged for all cutting moves.");
  if (quote.parts_per_stock > 1)
    a.push_back(fmt::format(
        "One piece of stock gives {} parts. Each part carries its share of it; parts left over are not charged.",
        quote.parts_per_stock));
  a.push_back(fmt::format(
      "Machine time for one piece of stock: {} (low {}, high {}), with tool changes and spindle starts.",
      durationText(time.time.total_s()), durationText(time.low.total_s()), durationText(time.high.total_s())));
  a.push_back("Operator time while it runs: not charged.");
  if (!builder.free_of_cost.empty()) {
    std::string list;
    for (const std::string& name : builder.free_of_cost) list += (list.empty() ? "" : ", ") + name;
    a.push_back("Not in the price, because the job file has no figure: " + list + ".");
  }
  if (quote.margin)
    a.push_back(fmt::format("Margin: {} of the price, so price = cost / (1 - {}).", percentText(*quote.margin),
                            shown(*quote.margin)));
  else if (quote.markup)
    a.push_back(fmt::format("Markup: {} of the cost, so price = cost × (1 + {}).", percentText(*quote.markup),
                            shown(*quote.markup)));
  else
    a.push_back("No margin, no markup: the price is the cost.");
  if (quote.tax)
    a.push_back("Tax: " + percentText(*quote.tax) + " of the rounded price.");
  else
    a.push_back("No tax.");
  a.push_back(fmt::format(
      "The price {} rounded once, to the cent. If the lines do not add up, the line \"rounding\" makes up the "
      "difference.",
      quote.tax ? "and the tax are each" : "is"));
  return a;
}

}  // namespace

QuantityPrice priceOf(const std::vector<CostLine>& lines, const Pricing& pricing, int quantity) {
  CHECK(quantity > 0);
  QuantityPrice out;
  out.quantity = quantity;
  Cents shown_sum;
  for (const CostLine& line : lines) {
    out.lines.push_back(rounded(line.once ? line.amount : Exact(line.amount * quantity)));
    shown_sum = shown_sum + out.lines.back();
  }
  const Exact cost = costOf(lines, quantity);
  out.cost = rounded(cost);
  out.rounding = out.cost - shown_sum;
  out.price = out.low_price = out.high_price = rounded(priceFromCost(cost, pricing));
  out.each = rounded(Exact(out.price.value, 100) / quantity);
  if (pricing.tax) out.tax = rounded(Exact(out.price.value, 100) * exact(*pricing.tax));
  out.total = out.price + out.tax;
  out.stock_pieces = quantity;
  return out;
}

JobTime jobTime(std::span<const ProgramRun> programs) {
  JobTime time;
  for (const ProgramRun& p : programs) {
    time.time = time.time + p.time;
    time.low = time.low + p.time_low;
    time.high = time.high + p.time_high;
  }
  time.air_known = !programs.empty();
  return time;
}

std::string beyondCountText(const std::string& currency) {
  return fmt::format(
      "the quote is over {} {}, too much to count to the cent. Check the amounts, quantities and margin.",
      moneyText(max_money), currency);
}

Quotation quotation(const Quote& quote, std::size_t setups, const JobTime& time) {
  CHECK(quote.parts_per_stock > 0);
  Quotation out;
  out.currency = quote.currency;
  out.parts_per_stock = quote.parts_per_stock;
  out.pricing = {quote.margin, quote.markup, quote.tax};
  if (!std::isfinite(time.time.total_s()) || !std::isfinite(time.low.total_s()) ||
      !std::isfinite(time.high.total_s())) {
    out.beyond_count = true;
    return out;
  }
  Builder builder{quote, setups, time.air_known, {}};
  const std::vector<CostLine> low = builder.lines(time.low), high = builder.lines(time.high);
  out.lines = builder.lines(time.time);
  for (int quantity : quote.quantity) {
    QuantityPrice price = priceOf(out.lines, out.pricing, quantity);
    price.low_price = rounded(priceFromCost(costOf(low, quantity), out.pricing));
    price.high_price = rounded(priceFromCost(costOf(high, quantity), out.pricing));
    price.stock_pieces = (quantity - 1) / quote.parts_per_stock + 1;
    if (quote.parts_per_stock > 1 && quote.material_cost > 0) {
      const Exact share =
          exact(quote.material_cost) * (1 + exact(quote.material_waste)) / quote.parts_per_stock * quantity;
      const Exact bought = exact(quote.material_cost) * price.stock_pieces;
      price.whole_pieces_price = rounded(priceFromCost(costOf(out.lines, quantity) - share + bought, out.pricing));
    }
    out.prices.push_back(std::move(price));
  }
  // A total is no less than its price, cost and lines.
  out.beyond_count = std::any_of(out.prices.begin(), out.prices.end(), [](const QuantityPrice& p) {
    return beyondCount(p.total) || beyondCount(p.low_price) || beyondCount(p.high_price) ||
           beyondCount(p.whole_pieces_price.value_or(Cents{}));
  });
  out.assumptions = assumptionsOf(quote, time, builder);
  return out;
}

}  // namespace provecut
