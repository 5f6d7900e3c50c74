#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

struct Slow : Scene {
  Slow() {
    tool().plunge_feed_mm_min = 800;
    rapid({50, 50, 2});
  }
};

TEST(PlungeFast, at_the_cutting_feed) {
  Slow s;
  s.feed_mm_min = 1800;
  s.feed({50, 50, -3});
  s.cuts(3, 3);
  const auto findings = s.findings(plunge_fast_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 1800);
  EXPECT_EQ(findings[0].unit, "mm/min");
  EXPECT_EQ(findings[0].message, "6 mm flat plunges at 1,800 mm/min (maximum 800 mm/min)");
}

TEST(PlungeFast, the_plunge_feed_itself_is_allowed_and_one_more_is_not) {
  Slow s;
  s.feed_mm_min = 800;
  s.feed({50, 50, -3});
  s.cuts(3, 3);
  EXPECT_TRUE(s.findings(plunge_fast_rule).empty());
  s.last().feed_mm_min = 801;
  EXPECT_EQ(s.findings(plunge_fast_rule).size(), 1u);
}

TEST(PlungeFast, a_ramp_and_a_steep_wall_are_no_plunge) {
  Slow s;
  s.feed_mm_min = 1800;
  s.feed({52, 50, -3});  // 68 degrees
  s.cuts(3, 3);
  EXPECT_TRUE(s.findings(plunge_fast_rule).empty());
}

TEST(PlungeFast, down_through_the_air_may_be_fast) {
  Slow s;
  s.feed_mm_min = 1800;
  s.feed({50, 50, 0});
  EXPECT_TRUE(s.findings(plunge_fast_rule).empty());
}

}  // namespace
}  // namespace provecut
