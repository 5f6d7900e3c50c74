#include <gtest/gtest.h>

#include <cmath>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(CutsNothing, a_program_that_stays_above_the_stock_is_told_by_how_much) {
  Scene s;
  s.rapid({0, 0, 14});
  s.feed({0, 0, 12});
  s.feed({100, 0, 12});
  s.feed({100, 40, 12});
  const auto findings = s.findings(cuts_nothing_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 12);
  EXPECT_EQ(findings[0].place.line, 2u);
  EXPECT_EQ(findings[0].moves, 3u);
  EXPECT_EQ(findings[0].message, "this program cuts nothing: it stays 12 mm or more above the stock");
  EXPECT_TRUE(s.findings(air_cut_rule).empty());  // one thing is said once
}

TEST(CutsNothing, one_beside_the_stock_is_told_how_far) {
  Scene s;
  s.rapid({-40, 0, 5});
  s.feed({-40, 0, -5});
  s.feed({-40, 50, -5});
  const auto findings = s.findings(cuts_nothing_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 37);  // less the cutter's radius
}

// In the corner of the square about a disc of 100 mm: the move's nearest place is 14.14 mm from its rim, the cutter 3.
TEST(CutsNothing, one_in_the_corner_beside_round_stock_is_told_how_far) {
  Scene s;
  s.job().stock.size_mm = {100, 100, 18};
  s.job().stock.shape = StockShape::round;
  s.rapid({-10, 4.645, 5});
  s.feed({-10, 4.645, -5});
  s.feed({4.645, 4.645, -5});
  const auto findings = s.findings(cuts_nothing_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_NEAR(*findings[0].amount, std::hypot(45.355, 45.355) - 50 - 3, 1e-9);
}

TEST(CutsNothing, one_in_what_is_gone_already_has_no_amount) {
  Scene s;
  s.programRun().removed_mm3 = 500;
  s.feed({60, 20, -5});
  s.cuts(5, 5);
  s.addProgram("20-again.nc");
  s.rapid({20, 20, 5});
  s.feed({20, 20, -5});
  s.feed({60, 20, -5});
  const auto findings = s.findings(cuts_nothing_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_FALSE(findings[0].amount);
  EXPECT_EQ(findings[0].message, "this program cuts nothing: earlier programs have already cut everything away here");
}

TEST(CutsNothing, the_first_program_finds_nothing_cut_away_before_it) {
  Scene s;
  s.rapid({20, 20, 5});
  s.feed({20, 20, -5});
  s.feed({260, 20, -5});
  EXPECT_EQ(s.findings(cuts_nothing_rule).at(0).message,
            "this program cuts nothing: where it goes below the top of the stock, there is no stock");
}

TEST(CutsNothing, a_tip_just_on_the_top_is_told_so) {
  Scene s;
  s.rapid({20, 20, 5});
  s.feed({20, 20, -0.0009});
  s.feed({60, 20, -0.0009});
  const Finding f = s.findings(cuts_nothing_rule).at(0);
  EXPECT_DOUBLE_EQ(*f.amount, 0);
  EXPECT_EQ(f.message, "this program cuts nothing: its lowest move runs just on the top of the stock");
}

TEST(CutsNothing, the_least_chip_is_a_cut_and_a_still_spindle_none) {
  Scene s;
  s.rapid({0, 0, 5});
  s.feed({60, 20, 0});
  s.cuts(0.01, 0.01, 0.5);
  EXPECT_TRUE(s.findings(cuts_nothing_rule).empty());
  Scene probing;
  probing.spindle = Spindle::off;
  probing.feed({60, 20, 3});
  EXPECT_TRUE(probing.findings(cuts_nothing_rule).empty());
}

TEST(CutsNothing, a_tool_that_is_not_known_says_nothing) {
  Scene s;
  s.feed({60, 20, 3}).tool = 9;
  EXPECT_TRUE(s.findings(cuts_nothing_rule).empty());
}

// In increments from wherever the tool starts; the tool change has stopped the spindle.
TEST(CutsNothing, a_program_that_never_says_where_it_starts_was_not_checked) {
  Scene s;
  s.spindle = Spindle::off;
  s.rapid({20, 35, 150}).flags = motion_start_unknown;
  s.feed({20, 35, 144}).flags = motion_start_unknown;
  s.feed({30, 35, 144}).flags = motion_start_unknown;
  const auto findings = s.findings(cuts_nothing_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].place.line, 2u);
  EXPECT_EQ(findings[0].moves, 2u);
  EXPECT_NE(findings[0].message.find("none of this program's cuts were checked"), std::string::npos);
  s.last().flags = 0;  // from there on it is known
  EXPECT_TRUE(s.findings(cuts_nothing_rule).empty());
}

}  // namespace
}  // namespace provecut
