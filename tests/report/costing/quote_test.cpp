// Money, to the cent. The worked quotes were worked by hand in exact fractions; the working
// stands beside each.
#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <nlohmann/json.hpp>
#include <random>

#include "report/base/money.h"
#include "report/costing/quote.h"
#include "report/costing/quote_table.h"

namespace provecut {
namespace {

std::string text(Cents c) {
  return moneyText(c);
}

TEST(Money, is_taken_as_it_was_written) {
  EXPECT_EQ(exact(0.1), Exact(1, 10));
  EXPECT_EQ(exact(18.35), Exact(1835, 100));
  EXPECT_EQ(exact(1e6), Exact(1000000));
  EXPECT_EQ(exact(-0.0825), Exact(-825, 10000));
  EXPECT_EQ(exact(0), Exact(0));
  EXPECT_EQ(exact(1e-7), Exact(1, 10000000));
  EXPECT_EQ(exact(123456789.01), Exact(12345678901, 100));
}

TEST(Money, rounds_half_a_cent_up_and_less_down) {
  EXPECT_EQ(text(rounded(Exact(1005, 1000))), "1.01");  // 1.005, which binary fractions make 1.00
  EXPECT_EQ(text(rounded(Exact(10049999, 10000000))), "1.00");
  EXPECT_EQ(text(rounded(Exact(2675, 1000))), "2.68");  // 2.675, which binary fractions make 2.67
  EXPECT_EQ(text(rounded(Exact(-1005, 1000))), "-1.01");
  EXPECT_EQ(text(rounded(Exact(1, 3))), "0.33");
  EXPECT_EQ(text(rounded(Exact(2, 3))), "0.67");
  EXPECT_EQ(text(rounded(Exact(0))), "0.00");
}

TEST(Money, of_any_size_is_held_and_not_wrapped_round) {
  EXPECT_EQ(rounded(exact(1e300)).value, 999'999'999'999'999);
  EXPECT_EQ(rounded(exact(-1e300)).value, -999'999'999'999'999);
}

TEST(Money, passes_through_a_json_number_to_the_cent) {
  std::mt19937_64 random(3);
  for (int k = 0; k < 20000; ++k) {
    const Cents c{std::uniform_int_distribution<std::int64_t>(0, 999'999'999'999'999)(random) >> (k % 50)};
    const std::string written = nlohmann::json(static_cast<double>(c.value) / 100).dump();
    EXPECT_EQ(rounded(exact(std::stod(written))), c) << written;
    const std::size_t point = written.find('.');
    EXPECT_LE(written.size() - point, 3U) << written;  // at most two places
  }
}

TEST(Money, reads_as_it_is_written) {
  EXPECT_EQ(moneyText({133667}), "1336.67");
  EXPECT_EQ(moneyText({5}), "0.05");
  EXPECT_EQ(moneyText({-120}), "-1.20");
}

TEST(Money, is_written_with_all_its_digits) {
  EXPECT_EQ(decimalText(exact(8.875)), "8.875");
  EXPECT_EQ(decimalText(exact(1e9)), "1000000000");
  EXPECT_EQ(decimalText(exact(0.0005)), "0.0005");
  EXPECT_EQ(decimalText(exact(-2.5)), "-2.5");
  EXPECT_EQ(decimalText(0), "0");
}

// A sales tax of 8.875 % is one that a city charges (common knowledge, no source); shown as 8.88 % it would be another.
TEST(Money, percents_are_what_is_charged) {
  EXPECT_EQ(percentText(0.08875), "8.875 %");
  EXPECT_EQ(percentText(0.33335), "33.335 %");
  EXPECT_EQ(percentText(0.999999), "99.9999 %");
  EXPECT_EQ(percentText(0.25), "25 %");
  EXPECT_EQ(percentText(0), "0 %");
  EXPECT_EQ(percentText(1e-6), "0.0001 %");
  EXPECT_EQ(percentText(0.29), "29 %");  // binary fractions make 28.999999999999996
  EXPECT_EQ(percentText(2), "200 %");
}

// The design's job: 2 setups, 4100 s, machine 45/h, labour 30/h, set-up 20 min, 10 min a setup, material 18, finishing
// 40 min.
Quote workedQuote() {
  Quote q;
  q.machine_rate = 45;
  q.labour_rate = 30;
  q.setup_minutes = 20;
  q.per_setup_minutes = 10;
  q.material_cost = 18;
  q.finishing_minutes = 40;
  q.margin = 0.25;
  q.quantity = {1, 10, 50};
  return q;
}

JobTime timeOf(double cutting_s, double tool_change_s = 0) {
  TimeSpent t;
  t.cutting_s = cutting_s;
  t.tool_change_s = tool_change_s;
  return {t, t, t};
}

TEST(Quote, a_margin_is_a_share_of_the_price) {
  const Quotation q = quotation(workedQuote(), 2, timeOf(4100));
  // once 20/60*30 = 10; each 2*10/60*30 + 4100/3600*45 + 18 + 40/60*30 = 10 + 51.25 + 18 + 20 = 99.25
  ASSERT_EQ(q.prices.size(), 3U);
  EXPECT_EQ(text(q.prices[0].cost), "109.25");
  EXPECT_EQ(text(q.prices[0].price), "145.67");  // 109.25 / 0.75 = 145.666…
  EXPECT_EQ(text(q.prices[1].cost), "1002.50");
  EXPECT_EQ(text(q.prices[1].price), "1336.67");  // 1002.50 / 0.75
  EXPECT_EQ(text(q.prices[1].each), "133.67");
  EXPECT_EQ(text(q.prices[2].cost), "4972.50");
  EXPECT_EQ(text(q.prices[2].price), "6630.00");
  EXPECT_EQ(text(q.prices[2].each), "132.60");
}

TEST(Quote, a_markup_is_a_share_of_the_cost) {
  Quote quote = workedQuote();
  quote.margin.reset();
  quote.markup = 0.25;
  EXPECT_EQ(text(quotation(quote, 2, timeOf(4100)).prices[0].price), "136.56");  // 109.25 * 1.25 = 136.5625
}

TEST(Quote, lists_each_cost_with_its_working_and_leaves_out_what_costs_nothing) {
  const Quotation q = quotation(workedQuote(), 2, timeOf(3740, 360));
  ASSERT_EQ(q.lines.size(), 5U);
  EXPECT_EQ(q.lines[0].name, "setup");
  EXPECT_EQ(q.lines[0].working, "20 min at 30.00 an hour, once per batch");
  EXPECT_TRUE(q.lines[0].once);
  EXPECT_EQ(q.lines[0].amount, 10);
  EXPECT_EQ(q.lines[1].working, "2 setups of 10 min at 30.00 an hour, per piece of stock");
  EXPECT_EQ(q.lines[2].name, "machine time");
  EXPECT_EQ(q.lines[2].working, "1:08:20 at 45.00 an hour, per piece of stock");
  EXPECT_EQ(q.lines[2].amount, Exact(5125, 100));
  EXPECT_EQ(q.lines[3].working, "18.00, per piece of stock");
  EXPECT_EQ(q.lines[4].working, "40 min at 30.00 an hour, per part");
  const auto says = [&](const char* words) { return std::count(q.assumptions.begin(), q.assumptions.end(), words); };
  EXPECT_EQ(says("Not in the price, because the job file has no figure: programming (programming_minutes), change of "
                 "setup (change_over_minutes), loading and unloading (load_minutes), tool wear (tooling_per_hour), "
                 "consumables (consumables_cost)."),
            1);
  EXPECT_EQ(says("Machine time for one piece of stock: 1:08:20 (low 1:08:20, high 1:08:20), with tool changes and "
                 "spindle starts."),
            1);
}

// sign stocks, 8 to a sheet. Its lines for programming, consumables and tool life are given here as lines of their
// own.
std::vector<CostLine> signLines() {
  return {
      {"set-up", "45 min at 40", true, Exact(45, 60) * 40},
      {"programming", "1.5 h at 50", true, Exact(3, 2) * 50},
      {"machine", "1847 s at 48", false, Exact(1847, 3600) * 48},
      {"load and unload", "4 min at 40", false, Exact(4, 60) * 40},
      {"tooling", "0.40 h of 25 h, 38.50", false, exact(0.40) / 25 * exact(38.50)},
      {"finishing", "12 min at 40", false, Exact(12, 60) * 40},
      {"consumables", "tape, paper", false, exact(0.35)},
      {"material", "96 / 8 * 1.15", false, exact(96) / 8 * exact(1.15)},
  };
}

// The same from the keys of a job file; one part stands for a sheet of eight, so times and loading are those of eight.
Quote signQuote() {
  Quote q;
  q.labour_rate = 40;
  q.machine_rate = 48;
  q.setup_minutes = 45;
  q.programming_minutes = 90;
  q.programming_rate = 50;
  q.load_minutes = 4 * 8;
  q.tooling_per_hour = 1.54;  // 38.50 / 25 h
  q.finishing_minutes = 12;
  q.consumables_cost = 0.35;
  q.material_cost = 96;
  q.material_waste = 0.15;
  q.parts_per_stock = 8;
  q.margin = 0.30;
  q.tax = 0.0825;
  q.quantity = {1, 12, 50};
  return q;
}

JobTime signTime() {
  JobTime time;
  for (TimeSpent* t : {&time.time, &time.low, &time.high}) {
    t->cutting_s = 0.4 * 3600 * 8;
    t->rapid_s = 1847 * 8 - t->cutting_s;
  }
  return time;
}

struct Worked {
  int quantity;
  const char *cost, *price, *each, *tax, *total, *markup;
};

TEST(Quote, sign_stocks_to_the_cent) {
  // 105 once, 50.059333… each; margin 30 % of the price, tax 8.25 % on the rounded price; last column mark-up 30
  // %.
  for (const Worked& w : {Worked{1, "155.06", "221.51", "221.51", "18.27", "239.78", "201.58"},
                          Worked{12, "705.71", "1008.16", "84.01", "83.17", "1091.33", "917.43"},
                          Worked{50, "2607.97", "3725.67", "74.51", "307.37", "4033.04", "3390.36"}}) {
    const QuantityPrice p = priceOf(signLines(), {0.30, std::nullopt, 0.0825}, w.quantity);
    EXPECT_EQ(text(p.cost), w.cost);
    EXPECT_EQ(text(p.price), w.price);
    EXPECT_EQ(text(p.each), w.each);
    EXPECT_EQ(text(p.tax), w.tax);
    EXPECT_EQ(text(p.total), w.total);
    EXPECT_EQ(text(priceOf(signLines(), {std::nullopt, 0.30, std::nullopt}, w.quantity).price), w.markup);
  }
}

TEST(Quote, sign_stocks_from_the_keys_of_a_job_file) {
  const Quotation q = quotation(signQuote(), 1, signTime());
  EXPECT_EQ(q.lines.at(2).working, "32 min at 40.00 an hour, per piece of stock, shared by 8 parts");
  ASSERT_EQ(q.prices.size(), 3U);
  const char* const prices[] = {"221.51", "1008.16", "3725.67"};
  const char* const totals[] = {"239.78", "1091.33", "4033.04"};
  for (std::size_t k = 0; k < 3; ++k) {
    EXPECT_EQ(text(q.prices[k].price), prices[k]);
    EXPECT_EQ(text(q.prices[k].total), totals[k]);
  }
}

TEST(Quote, whole_sheets_or_a_share_of_one_make_two_prices_and_both_are_shown) {
  const Quotation q = quotation(signQuote(), 1, signTime());
  const char* const shares[] = {"221.51", "1008.16", "3725.67"};
  const char* const wholes[] = {"338.94", "1045.87", "3699.95"};  // 1, 2, 7 sheets, no waste factor
  const int stocks[] = {1, 2, 7};
  for (std::size_t k = 0; k < 3; ++k) {
    EXPECT_EQ(text(q.prices[k].price), shares[k]);
    EXPECT_EQ(text(q.prices[k].whole_pieces_price.value()), wholes[k]);
    EXPECT_EQ(q.prices[k].stock_pieces, stocks[k]);
  }
}

TEST(Quote, changing_over_is_paid_between_setups_and_not_before_the_first) {
  Quote q;
  q.labour_rate = 30;
  q.change_over_minutes = 6;
  // 3.00 a change
  for (std::size_t setups : {1U, 2U, 3U})
    EXPECT_EQ(quotation(q, setups, {}).prices.at(0).price.value, 300 * (static_cast<int>(setups) - 1));
}

TEST(Quote, programming_is_paid_at_the_labour_rate_unless_it_has_its_own) {
  Quote q;
  q.labour_rate = 30;
  q.programming_minutes = 120;
  EXPECT_EQ(text(quotation(q, 1, {}).prices.at(0).price), "60.00");
  q.programming_rate = 55;
  EXPECT_EQ(text(quotation(q, 1, {}).prices.at(0).price), "110.00");
}

TEST(Quote, neither_lines_rounded_first_nor_the_unit_price_make_the_price) {
  // 50 pieces: exact 3725.67; from lines rounded first 3725.66; unit price times 50 gives 3725.50.
  const QuantityPrice p = priceOf(signLines(), {0.30, std::nullopt, std::nullopt}, 50);
  EXPECT_EQ(text(p.price), "3725.67");
  Cents lines;
  for (Cents c : p.lines) lines = lines + c;
  EXPECT_EQ(text(rounded(Exact(lines.value, 100) / Exact(7, 10))), "3725.66");
  EXPECT_EQ(p.each.value * 50, 372550);
}

// The same quote from a job's own keys, as far as they go: without programming and consumables.
// once 30; each 24.626666… + 2.666666… + 0.616 + 8 + 13.80 = 49.709333…; n 12: 30 + 596.512 = 626.512, / 0.7 = 895.017…
TEST(Quote, parts_share_a_stock) {
  Quote q;
  q.machine_rate = 48;
  q.labour_rate = 40;
  q.setup_minutes = 45;
  q.load_minutes = 4 * 8;
  q.tooling_per_hour = 1.54;  // 38.50 / 25 h
  q.finishing_minutes = 12;
  q.material_cost = 96;
  q.material_waste = 0.15;
  q.margin = 0.30;
  q.tax = 0.0825;
  q.parts_per_stock = 8;
  q.quantity = {12, 1};
  JobTime time = timeOf(0.4 * 3600 * 8);
  for (TimeSpent* t : {&time.time, &time.low, &time.high}) t->rapid_s = 1847 * 8 - t->cutting_s;
  const Quotation quoted = quotation(q, 1, time);
  EXPECT_EQ(text(quoted.prices.at(0).cost), "626.51");
  EXPECT_EQ(text(quoted.prices.at(0).price), "895.02");
  EXPECT_EQ(text(quoted.prices.at(0).tax), "73.84");  // 895.02 * 0.0825 = 73.83915
  EXPECT_EQ(text(quoted.prices.at(0).total), "968.86");
  EXPECT_EQ(quoted.prices.at(0).stock_pieces, 2);
  // Whole sheets: 626.512 - 12*13.80 + 2*96 = 652.912, / 0.7 = 932.73142…
  EXPECT_EQ(text(quoted.prices.at(0).whole_pieces_price.value()), "932.73");
  // One part: 30 + 49.709333… - 13.80 + 96 = 161.909333…, / 0.7 = 231.299…
  EXPECT_EQ(text(quoted.prices[1].whole_pieces_price.value()), "231.30");
  EXPECT_EQ(quoted.prices[1].stock_pieces, 1);
}

TEST(Quote, percents_in_the_table_and_the_assumptions_are_what_is_charged) {
  Quote q = workedQuote();
  q.margin = 0.33335;
  q.tax = 0.08875;
  q.material_waste = 0.125;
  const Quotation quoted = quotation(q, 2, timeOf(4100));
  std::string shown;
  for (const QuoteRow& row : quoteRows(quoted)) shown += row.working + "\n";
  for (const std::string& a : quoted.assumptions) shown += a + "\n";
  for (const char* words :
       {"33.335 % of the price", "8.875 % of the price", "and 12.5 % waste", "Margin: 33.335 %", "Tax: 8.875 %"})
    EXPECT_NE(shown.find(words), std::string::npos) << words << " in:\n" << shown;
}

TEST(Quote, an_amount_beyond_count_is_said_to_be) {
  Quote q;
  q.material_cost = 1e9;
  q.quantity = {1, 1000};
  EXPECT_FALSE(quotation(q, 1, {}).beyond_count);  // 10^12
  q.margin = 0.999999;                             // 10^18
  EXPECT_TRUE(quotation(q, 1, {}).beyond_count);
  q.margin.reset();
  q.quantity = {9999};
  q.tax = 0;
  EXPECT_FALSE(quotation(q, 1, {}).beyond_count);  // 9 999 000 000 000.00
  q.tax = 0.01;
  EXPECT_TRUE(quotation(q, 1, {}).beyond_count);  // 10 098 990 000 000.00 with the tax
  q.tax.reset();
  q.quantity = {1};
  q.parts_per_stock = 2;  // half stock, or a whole one
  q.material_cost = 1e9;
  q.margin = 0.9999;  // 5 * 10^12, or 10^13
  EXPECT_TRUE(quotation(q, 1, {}).beyond_count);
  q.parts_per_stock = 1;
  q.material_cost = 0;
  q.machine_rate = 1e9;
  JobTime time = timeOf(36);  // 10^11, low and high the same
  EXPECT_FALSE(quotation(q, 1, time).beyond_count);
  time.high.cutting_s = 3600;  // 10^13
  EXPECT_TRUE(quotation(q, 1, time).beyond_count);
  // Feeds of almost nothing.
  EXPECT_TRUE(quotation(q, 1, timeOf(1e15)).beyond_count);
  EXPECT_TRUE(quotation(q, 1, timeOf(std::numeric_limits<double>::infinity())).beyond_count);
}

TEST(Quote, the_range_of_the_time_gives_a_range_of_the_price) {
  // 20 % of the time moves the price of 12 by 24.626666… * 12 * 0.2 / 0.7 = 84.434…
  // Machine alone: 24.626666… * 12 / 0.7 = 422.1714…; * 1.2 = 506.6057…; * 0.8 = 337.7371…
  Quote q;
  q.machine_rate = 48;
  q.margin = 0.30;
  q.quantity = {12};
  JobTime time = timeOf(1847);
  time.low.cutting_s = 1847 * 0.8;
  time.high.cutting_s = 1847 * 1.2;
  const QuantityPrice p = quotation(q, 1, time).prices.at(0);
  EXPECT_EQ(text(p.price), "422.17");
  EXPECT_EQ(text(p.high_price), "506.61");
  EXPECT_EQ(text(p.low_price), "337.74");
}

TEST(Quote, the_lines_shown_add_up_to_the_cost_shown) {
  std::mt19937 random(7);
  int made_up = 0;
  for (int k = 0; k < 300; ++k) {
    const auto between = [&](double high) {
      return static_cast<double>(std::uniform_int_distribution<int>(0, static_cast<int>(high * 100))(random)) / 100;
    };
    Quote q;
    q.machine_rate = between(90);
    q.labour_rate = between(60);
    q.setup_minutes = between(50);
    q.per_setup_minutes = between(15);
    q.load_minutes = between(9);
    q.tooling_per_hour = between(5);
    q.material_cost = between(200);
    q.material_waste = between(0.5);
    q.finishing_minutes = between(60);
    q.parts_per_stock = 1 + k % 9;
    q.quantity = {1, 7, 100};
    for (const QuantityPrice& p : quotation(q, 2, timeOf(between(9000))).prices) {
      Cents sum = p.rounding;
      for (Cents c : p.lines) sum = sum + c;
      EXPECT_EQ(sum, p.cost);
      EXPECT_LE(std::abs(p.rounding.value), 4);  // seven lines, each off by less than half a cent and a bit
      made_up += p.rounding.value != 0;
      EXPECT_EQ(p.price, p.cost);
      EXPECT_EQ(p.total, p.price);
    }
  }
  EXPECT_GT(made_up, 0);
}

}  // namespace
}  // namespace provecut
