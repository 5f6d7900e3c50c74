#include <gtest/gtest.h>

#include <cmath>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

struct Rates : Scene {
  Rates() {
    job().machine.max_rate_mm_min = {5000, 5000, 3000};
    rapid({50, 50, 10});
  }
  // All that follows cuts.
  void cut(WorkPoint to) {
    feed(to);
    cuts(1, 1);
  }
};

TEST(FeedOver, down_faster_than_z_can) {
  Rates s;
  s.feed_mm_min = 4000;
  s.cut({50, 50, -3});
  const auto findings = s.findings(feed_over_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 4000);
  EXPECT_EQ(findings[0].message, "the feed is 4,000 mm/min (maximum 3,000 mm/min in this direction)");
  EXPECT_EQ(findings[0].help, "Lower the feed to 3,000 mm/min or less here.");
}

TEST(FeedOver, a_zero_too_many_is_told_with_the_feed_that_the_job_uses_with_the_same_bit) {
  const auto help = [](double other) {
    Rates s;
    s.feed_mm_min = 24000;
    s.cut({90, 50, -3});
    s.addProgram("front.gcode");
    s.feed_mm_min = other;
    s.cut({50, 50, -3});
    return s.findings(feed_over_rule).at(0).help;
  };
  EXPECT_EQ(help(2400), "Set the feed to 2,400 mm/min here: front.gcode uses it with the same bit.");
  EXPECT_TRUE(help(3100).starts_with("Lower the feed to ")) << "another feed is no slip of the same";
}

TEST(FeedOver, through_air_the_machine_goes_as_fast_as_it_can_and_nothing_comes_of_it) {
  Rates s;
  s.feed_mm_min = 4000;
  s.feed({50, 50, 1});
  EXPECT_TRUE(s.findings(feed_over_rule).empty());
  s.feed({50, 50, -3}).tool = 9;  // not known: nothing was cut with it
  EXPECT_EQ(s.findings(feed_over_rule).size(), 1u);
}

TEST(FeedOver, the_rate_itself_is_allowed) {
  Rates s;
  s.feed_mm_min = 5000;
  s.cut({90, 50, 10});
  EXPECT_TRUE(s.findings(feed_over_rule).empty());
  s.feed_mm_min = 5001;
  s.cut({50, 50, 10});
  EXPECT_EQ(s.findings(feed_over_rule).size(), 1u);
}

TEST(FeedOver, aslant_two_axes_share_the_feed) {
  Rates s;
  s.feed_mm_min = 7000;
  s.cut({90, 90, 10});  // 45 degrees: 5000 * sqrt 2 = 7071: each axis at its full 5000
  EXPECT_TRUE(s.findings(feed_over_rule).empty());
  s.feed_mm_min = 7072;
  s.cut({50, 50, 10});
  EXPECT_EQ(s.findings(feed_over_rule).size(), 1u);
}

TEST(FeedOver, an_arc_passes_along_an_axis_somewhere) {
  Rates s;
  s.feed_mm_min = 6000;
  s.arc({70, 50, 10}, {60, 50}, Plane::xy, true);
  s.cuts(1, 1);
  EXPECT_EQ(s.findings(feed_over_rule).size(), 1u);
  // A short arc about 45 degrees keeps away from both axes.
  Rates t;
  const double h = 10 / std::sqrt(2.0);
  t.rapid({60 + h + 0.5, 50 + std::sqrt(100 - (h + 0.5) * (h + 0.5)), 10});
  t.feed_mm_min = 6000;
  t.arc({60 + h - 0.5, 50 + std::sqrt(100 - (h - 0.5) * (h - 0.5)), 10}, {60, 50}, Plane::xy, false);
  t.cuts(1, 1);
  EXPECT_TRUE(t.findings(feed_over_rule).empty());
}

}  // namespace
}  // namespace provecut
