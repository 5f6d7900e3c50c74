#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

struct Surfacing : Scene {
  Surfacing() {
    tool().name = "25 mm surfacing";
    tool().center_cutting = false;
  }
  // The last move goes `depth_mm` into material that lies under its middle too, or under its rim alone.
  void plunges(double depth_mm, double under_centre_mm) {
    cuts(depth_mm, depth_mm);
    programRun().cuts[lastIndex()].centre_depth_mm = static_cast<float>(under_centre_mm);
  }
};

TEST(PlungeNotCenter, straight_down_into_the_stock) {
  Surfacing s;
  s.rapid({50, 50, 2});
  s.feed({50, 50, -1});
  s.plunges(1, 1);
  const auto findings = s.findings(plunge_not_center_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::stop);
  EXPECT_EQ(findings[0].subject, "25 mm surfacing");
  EXPECT_DOUBLE_EQ(*findings[0].amount, 1);
  EXPECT_EQ(findings[0].message, "25 mm surfacing plunges 1 mm into the stock, but does not cut at its centre");
}

TEST(PlungeNotCenter, straight_down_beside_the_stock) {
  Surfacing s;
  s.feed({-20, 50, -1});
  s.cuts(0, 0, 0);
  EXPECT_TRUE(s.findings(plunge_not_center_rule).empty());
}

TEST(PlungeNotCenter, its_rim_alone_may_go_down_into_the_edge_of_the_stock) {
  Surfacing s;
  s.rapid({50, 102.5, 2});
  s.feed({50, 102.5, -1});
  s.plunges(1, 0);
  EXPECT_TRUE(s.findings(plunge_not_center_rule).empty());
  s.plunges(1, 0.5);
  const auto findings = s.findings(plunge_not_center_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 0.5);
}

TEST(PlungeNotCenter, a_ramp_of_45_degrees_is_the_limit) {
  Surfacing s;
  s.rapid({50, 50, 0});
  s.feed({52, 50, -2});
  s.plunges(2, 2);
  EXPECT_TRUE(s.findings(plunge_not_center_rule).empty());
  s.rapid({50, 50, 0});
  s.feed({51.99, 50, -2});
  s.plunges(2, 2);
  EXPECT_EQ(s.findings(plunge_not_center_rule).size(), 1u);
}

TEST(PlungeNotCenter, a_helix_steeper_than_45_degrees_is_a_plunge) {
  // Down by the circumference of a circle of 1 mm: 2 pi mm in one turn is 45 degrees.
  Surfacing s;
  s.rapid({50, 50, 0});
  s.arc({50, 50, -6.28}, {51, 50}, Plane::xy, true);
  s.plunges(2, 2);
  EXPECT_TRUE(s.findings(plunge_not_center_rule).empty());
  s.rapid({50, 50, 0});
  s.arc({50, 50, -6.29}, {51, 50}, Plane::xy, true);
  s.plunges(2, 2);
  EXPECT_EQ(s.findings(plunge_not_center_rule).size(), 1u);
}

TEST(PlungeNotCenter, a_tool_that_cuts_at_its_centre_may_plunge) {
  Scene s;
  s.feed({50, 50, -1});
  s.cuts(1, 1);
  EXPECT_TRUE(s.findings(plunge_not_center_rule).empty());
}

}  // namespace
}  // namespace provecut
