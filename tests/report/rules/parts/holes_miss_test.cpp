#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

struct Holes : Scene {
  Holes() {
    job().limits.min_floor_mm = 1.5;
    feed({30, 20, -8});
    addProgram("20-back.nc");
    feed({90, 20, -9});
  }
  void pair(double skin_mm, WorkDirection2 offset, int moves_with_stock = 0) {
    HolePair p;
    p.run_a = 0;
    p.run_b = 1;
    p.at = {90, 20, -9};
    p.radius_a_mm = p.radius_b_mm = 3;
    p.skin_mm = skin_mm;
    p.offset = offset;
    p.moves_with_stock = moves_with_stock;
    run().hole_pairs.push_back(p);
  }
};

TEST(HolesMiss, a_skin_between_the_tips_is_said_with_what_is_to_do) {
  Holes s;
  s.pair(1, {0, 0});
  const auto findings = s.findings(holes_miss_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].program, "20-back.nc");
  EXPECT_DOUBLE_EQ(*findings[0].amount, 1);
  EXPECT_EQ(findings[0].message,
            "this hole does not meet the one from the other side: 1 mm is left between their tips");
  EXPECT_EQ(findings[0].help, "Drill one of the two at least 1 mm deeper.");
  ASSERT_EQ(findings[0].related.size(), 1u);
  EXPECT_EQ(findings[0].related[0].file, "10-cut.nc");
}

TEST(HolesMiss, holes_that_just_meet_are_none_and_one_that_misses_by_a_hundredth_is) {
  Holes s;
  s.pair(0, {0, 0});
  EXPECT_TRUE(s.findings(holes_miss_rule).empty());
  s.pair(0.01, {0, 0});
  const auto findings = s.findings(holes_miss_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_NE(findings[0].message.find("1 other pair meets"), std::string::npos);
}

TEST(HolesMiss, tips_that_meet_only_in_the_stock_as_said_are_told_with_what_thicker_stock_leaves) {
  Holes s;
  s.job().stock.thickness_tolerance_mm = 0.3;
  s.pair(0, {0, 0}, 1);
  const auto message = [&] { return s.findings(holes_miss_rule).at(0).message; };
  EXPECT_TRUE(message().ends_with(": the tips only just touch; if the stock is 0.3 mm thicker, 0.3 mm is left"))
      << message();
  s.run().hole_pairs[0].skin_mm = -0.1;
  EXPECT_TRUE(message().ends_with(": the tips overlap by only 0.1 mm; if the stock is 0.3 mm thicker, 0.2 mm is left"))
      << message();
  s.run().hole_pairs[0].moves_with_stock = -1;
  EXPECT_TRUE(message().ends_with("if the stock is 0.3 mm thinner, 0.2 mm is left")) << message();
}

TEST(HolesMiss, a_skin_as_thick_as_a_floor_may_be_is_meant) {
  Holes s;
  s.pair(1.5, {0, 0});
  EXPECT_TRUE(s.findings(holes_miss_rule).empty());
  s.run().hole_pairs[0].skin_mm = 1.499;
  EXPECT_EQ(s.findings(holes_miss_rule).size(), 1u);
}

TEST(HolesMiss, axes_a_tenth_apart_are_let_be_and_more_is_said_with_the_way) {
  Holes s;
  s.pair(-2, {0.1, 0});
  EXPECT_TRUE(s.findings(holes_miss_rule).empty());
  s.run().hole_pairs[0].offset = {-0.4, 0.3};
  const auto findings = s.findings(holes_miss_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 0.5);
  EXPECT_EQ(findings[0].message,
            "this hole does not meet the one from the other side: the other hole is 0.5 mm off, mostly to the left");
}

TEST(HolesMiss, both_places_are_given_in_the_jobs_unit) {
  Holes s;
  s.pair(-2, {0.254, 0});
  s.run().hole_pairs[0].at = {50.8, 25.4, -9};
  EXPECT_EQ(s.findings(holes_miss_rule).at(0).help,
            "Check both places, as seen from this side: X 50.8 Y 25.4 here, X 51.054 Y 25.4 there (mm).");
  s.job().inches = true;
  EXPECT_EQ(s.findings(holes_miss_rule).at(0).help,
            "Check both places, as seen from this side: X 2 Y 1 here, X 2.01 Y 1 there (in).");
}

TEST(HolesMiss, tips_that_pass_by_less_than_the_tolerance_may_leave_a_skin) {
  Holes s;
  s.job().stock.thickness_tolerance_mm = 0.3;
  s.pair(-0.1, {0, 0}, 1);
  const auto findings = s.findings(holes_miss_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_NEAR(*findings[0].amount, 0.2, 1e-12);
  s.run().hole_pairs[0].moves_with_stock = 0;  // one zero of each kind: the thickness does not matter
  EXPECT_TRUE(s.findings(holes_miss_rule).empty());
  s.run().hole_pairs[0] = {};
  s.run().hole_pairs.clear();
  s.pair(-0.3, {0, 0}, 1);
  EXPECT_TRUE(s.findings(holes_miss_rule).empty());
}

TEST(HolesMiss, the_skin_is_not_said_again_as_a_thin_floor) {
  Holes s;
  s.pair(1, {0, 0});
  ThinFloor t;
  t.move = 0;
  t.thickness_mm = t.worst_mm = 1;
  s.programRun(1).thin_floors.push_back(t);
  EXPECT_TRUE(s.findings(floor_thin_rule).empty());
}

}  // namespace
}  // namespace provecut
