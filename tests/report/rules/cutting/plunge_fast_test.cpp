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

// Three plunges of 2 mm, by a tool without a plunge feed in the job.
struct Own : Scene {
  Own() {
    for (const double x : {20.0, 40.0, 60.0}) plunge(x, 333);
  }
  void plunge(double x, double feed_rate, double depth_mm = 2) {
    rapid({x, 50, 2});
    feed_mm_min = feed_rate;
    feed({x, 50, -depth_mm});
    cuts(depth_mm, depth_mm);
  }
};

TEST(PlungeFast, more_than_twice_as_fast_as_the_programs_other_plunges) {
  Own s;
  s.plunge(80, 666);
  EXPECT_TRUE(s.findings(plunge_fast_rule).empty());
  s.plunge(100, 1000);
  const auto findings = s.findings(plunge_fast_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].moves, 1u);
  EXPECT_EQ(findings[0].message, "6 mm flat plunges at 1,000 mm/min (the program's slower plunges: 333 mm/min)");
  EXPECT_EQ(findings[0].help, "Plunge at 333 mm/min or less, and set the feed again for the cut after it.");
}

TEST(PlungeFast, one_slow_plunge_alone_sets_no_feed_for_the_others) {
  Scene s;
  for (const double x : {20.0, 40.0, 60.0}) {
    s.rapid({x, 50, 2});
    s.feed_mm_min = x < 30 ? 200 : 1000;
    s.feed({x, 50, -2});
    s.cuts(2, 2);
  }
  EXPECT_TRUE(s.findings(plunge_fast_rule).empty());
}

TEST(PlungeFast, a_step_of_a_fifth_of_a_millimetre_is_no_plunge) {
  Own s;
  s.plunge(80, 1000, 0.19);
  EXPECT_TRUE(s.findings(plunge_fast_rule).empty());
}

TEST(PlungeFast, down_to_the_very_top_of_the_stock_counts) {
  Own s;
  s.rapid({100, 50, 5});
  s.feed_mm_min = 2000;
  s.feed({100, 50, 0});
  EXPECT_TRUE(s.findings(plunge_fast_rule).empty());
  s.cuts(0, 0, 0);
  s.programRun().cuts[s.lastIndex()].ends_above_mm = 0.0F;
  const auto findings = s.findings(plunge_fast_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message,
            "6 mm flat comes down to the very top of the stock at 2,000 mm/min (the program's slower plunges: 333 "
            "mm/min)");
  s.last().end.z = 0.2;
  s.programRun().cuts[s.lastIndex()].ends_above_mm = 0.2F;
  EXPECT_TRUE(s.findings(plunge_fast_rule).empty());
}

TEST(PlungeFast, the_cut_that_goes_on_from_the_top_tells_where_no_other_plunge_does) {
  for (const double next_feed : {500.0, 1000.0}) {
    Scene s;
    s.rapid({50, 50, 5});
    s.feed_mm_min = 2000;
    s.feed({50, 50, 0});
    s.cuts(0, 0, 0);
    s.programRun().cuts[s.lastIndex()].ends_above_mm = 0.0F;
    s.feed_mm_min = next_feed;
    s.feed({50, 50, -0.1});
    s.cuts(0.1, 0.1);
    const auto findings = s.findings(plunge_fast_rule);
    ASSERT_EQ(findings.size(), next_feed < 1000 ? 1u : 0u);
    if (next_feed >= 1000) continue;
    EXPECT_EQ(findings[0].message,
              "6 mm flat comes down to the very top of the stock at 2,000 mm/min (the cut after it: 500 mm/min)");
  }
}

}  // namespace
}  // namespace provecut
