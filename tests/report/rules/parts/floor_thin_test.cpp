#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

ThinFloor floor(const Scene& s, double thickness_mm, double worst_mm) {
  ThinFloor t;
  t.move = s.lastIndex();
  t.at = {60, 40, -17};
  t.thickness_mm = thickness_mm;
  t.worst_mm = worst_mm;
  t.area_mm2 = 300;
  return t;
}

struct Floor : Scene {
  Floor() {
    job().limits.min_floor_mm = 1.5;
    feed({60, 40, -17});
  }
};

TEST(FloorThin, the_thickness_left_is_said) {
  Floor s;
  s.programRun().thin_floors.push_back(floor(s, 1.0, 1.0));
  const auto findings = s.findings(floor_thin_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 1.0);
  EXPECT_EQ(findings[0].message, "floor only 1 mm thick (minimum 1.5 mm)");
  EXPECT_EQ(findings[0].help, "Cut at least 0.5 mm less deep here.");
}

TEST(FloorThin, a_floor_that_is_thick_enough_only_for_the_stock_as_said_is_thin) {
  Floor s;
  s.job().stock.thickness_tolerance_mm = 0.3;
  s.programRun().thin_floors.push_back(floor(s, 1.6, 1.3));
  s.programRun().thin_floors[0].moves_with_stock = 1;
  const auto findings = s.findings(floor_thin_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 1.6);
  EXPECT_EQ(findings[0].message, "floor 1.6 mm thick (minimum 1.5 mm), only 1.3 mm if the stock is 0.3 mm thinner");
  EXPECT_EQ(findings[0].help, "Cut at least 0.2 mm less deep here.");
}

// Programs write depths with three decimals: 16.501 for 16.5 is no thin floor.
TEST(FloorThin, the_limit_itself_is_thick_enough) {
  Floor s;
  s.programRun().thin_floors.push_back(floor(s, 1.5, 1.5));
  EXPECT_TRUE(s.findings(floor_thin_rule).empty());
  s.programRun().thin_floors[0] = floor(s, 1.499, 1.499);
  EXPECT_TRUE(s.findings(floor_thin_rule).empty());
  s.programRun().thin_floors[0] = floor(s, 1.497, 1.497);
  EXPECT_EQ(s.findings(floor_thin_rule).size(), 1u);
}

// What the stock's thickness does depends on the zeros: the floor gains 1, 0 or -1 mm per mm.
TEST(FloorThin, says_what_a_thicker_or_thinner_stock_does_to_it) {
  Floor s;
  s.job().stock.thickness_tolerance_mm = 0.3;
  s.programRun().thin_floors.push_back(floor(s, 1.2, 0.9));
  s.programRun().thin_floors[0].moves_with_stock = 1;
  EXPECT_EQ(s.findings(floor_thin_rule).at(0).message,
            "floor 1.2 mm thick (minimum 1.5 mm), only 0.9 mm if the stock is 0.3 mm thinner");
  s.programRun().thin_floors[0].moves_with_stock = -1;
  EXPECT_EQ(s.findings(floor_thin_rule).at(0).message,
            "floor 1.2 mm thick (minimum 1.5 mm), only 0.9 mm if the stock is 0.3 mm thicker");
  EXPECT_EQ(s.findings(floor_thin_rule).at(0).help, "Cut at least 0.6 mm less deep here.");
  s.programRun().thin_floors[0] = floor(s, 1.2, 1.2);
  EXPECT_EQ(s.findings(floor_thin_rule).at(0).help,
            "Cut at least 0.3 mm less deep here. True over your whole thickness tolerance (±0.3 mm).");
}

}  // namespace
}  // namespace provecut
