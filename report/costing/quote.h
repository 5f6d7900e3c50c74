// What to charge for a job: costs line by line, then the price for each quantity. Every factor in it is in the job
// file.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "parser/job/job.h"
#include "report/base/money.h"
#include "sim/clock/job_clock.h"
#include "sim/observed/observation.h"
#include "sim/observed/time_spent.h"

namespace provecut {

struct CostLine {
  std::string name;     // "machine time"
  std::string working;  // "0:57:11 at 45.00 an hour, per piece of stock"
  bool once = false;    // for the whole batch; else the amount is each part's
  Exact amount = 0;
};

// What is put on the costs.
struct Pricing {
  std::optional<double> margin;  // share of the price: price = cost / (1 - margin)
  std::optional<double> markup;  // share of the cost: price = cost (1 + markup)
  std::optional<double> tax;     // on the price as rounded
};

struct QuantityPrice {
  int quantity = 1;
  std::vector<Cents> lines;       // for the whole quantity, each rounded for showing; in the order of the cost lines
  Cents rounding;                 // so that the lines shown add up to the cost
  Cents cost, price, tax, total;  // price from the exact cost, rounded once; total = price + tax
  Cents each;                     // price / quantity, rounded for showing: the price is not made from it
  Cents low_price, high_price;    // with the low and the high time
  int stock_pieces = 0;           // that the quantity needs
  std::optional<Cents>
      whole_pieces_price;  // were whole pieces of stock bought, with no share for waste; where parts share stock
};

// Exact until the end: costs added as fractions, price = that sum with margin or markup, rounded to the cent once, half
// up.
QuantityPrice priceOf(const std::vector<CostLine>& lines, const Pricing& pricing, int quantity);

struct JobTime {
  TimeSpent time, low, high;  // of one stock
  bool air_known = false;     // false: cutting_s is all feed moves
};

// Of all programs of a job, as they were simulated.
JobTime jobTime(std::span<const ProgramRun> programs);

// "the quote is over 9999999999999.99 USD, ...": what is said in place of a quotation beyond count.
std::string beyondCountText(const std::string& currency);

struct Quotation {
  std::string currency;
  int parts_per_stock = 1;
  std::vector<CostLine> lines;
  Pricing pricing;
  std::vector<QuantityPrice> prices;  // as the job lists the quantities
  std::vector<std::string> assumptions;
  bool beyond_count = false;  // an amount is more than can be counted: none of them may be shown
};

// `setups`: of the job. Lines without cost are left out and named in the assumptions.
Quotation quotation(const Quote& quote, std::size_t setups, const JobTime& time);

}  // namespace provecut
