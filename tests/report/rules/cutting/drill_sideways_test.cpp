#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

struct Drill : Scene {
  Drill() {
    tool().shape = ToolShape::drill;
    tool().angle_deg = 118;
  }
};

TEST(DrillSideways, a_level_feed_through_wood) {
  Drill s;
  s.rapid({50, 50, 2});
  s.feed({50, 50, -6});
  s.cuts(6, 6);
  s.feed({120, 50, -6});
  s.cuts(6, 6);
  const auto findings = s.findings(drill_sideways_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].place.line, 3u);
  EXPECT_NEAR(*findings[0].amount, 6, 1e-6);
}

TEST(DrillSideways, boring_straight_down_and_going_sideways_in_the_air_are_what_a_drill_does) {
  Drill s;
  s.feed({0, 0, -12});
  s.cuts(12, 12);
  s.feed({0, 0, 2});
  s.feed({50, 0, 2});
  EXPECT_TRUE(s.findings(drill_sideways_rule).empty());
}

TEST(DrillSideways, from_forty_five_degrees_on_it_bores) {
  Drill s;
  s.feed({0, 0, 0});
  s.feed({10, 0, -10.01});
  s.cuts(10, 10);
  EXPECT_TRUE(s.findings(drill_sideways_rule).empty());
  s.feed({20.02, 0, -20});
  s.cuts(10, 10);
  EXPECT_EQ(s.findings(drill_sideways_rule).size(), 1u);
}

// Half of 6 mm at 90 degrees is 3 mm high.
TEST(DrillSideways, a_spot_drill_may_chamfer_within_its_point) {
  Drill s;
  s.tool().angle_deg = 90;
  s.feed({50, 50, -3});
  s.cuts(3, 3);
  EXPECT_TRUE(s.findings(drill_sideways_rule).empty());
  s.cuts(3.01, 3.01);
  EXPECT_EQ(s.findings(drill_sideways_rule).size(), 1u);
  s.tool().angle_deg = 118;
  s.cuts(0.5, 0.5);
  EXPECT_EQ(s.findings(drill_sideways_rule).size(), 1u) << "a twist drill has no chamfer's point";
}

TEST(DrillSideways, a_flat_bit_may) {
  Scene s;
  s.feed({50, 50, -6});
  s.cuts(6, 6);
  EXPECT_TRUE(s.findings(drill_sideways_rule).empty());
}

}  // namespace
}  // namespace provecut
