#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(AirCut, more_than_half_in_the_air_is_said_with_the_longest_stretch) {
  Scene s;
  s.feed_mm_min = 600;  // 10 mm/s
  s.rapid({0, 0, 1});
  s.feed({50, 0, 1});  // 5 s of air
  s.feed({90, 0, 1});  // 4 s of air
  s.feed({120, 0, 0});
  s.cuts(1, 1);         // about 3 s
  s.feed({140, 0, 1});  // 2 s of air
  const auto findings = s.findings(air_cut_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_EQ(findings[0].place.line, 2u);
  EXPECT_EQ(findings[0].last_line, 3u);
  EXPECT_EQ(findings[0].moves, 3u);
  EXPECT_NEAR(*findings[0].amount, 100 * 11.0025 / 14.0042, 0.01);
  EXPECT_EQ(findings[0].unit, "%");
  EXPECT_EQ(findings[0].message,
            "79 % of the cutting time is in air: 0:00:11 of 0:00:14; the longest stretch starts here (0:00:09)");
}

TEST(AirCut, the_approach_from_the_unknown_position_at_the_start_does_not_count) {
  Scene s;
  s.feed_mm_min = 600;
  s.feed({100, 0, 0}).flags |= motion_approach;
  s.feed({90, 0, 0});
  s.cuts(1, 1);
  EXPECT_TRUE(s.findings(air_cut_rule).empty());
}

TEST(AirCut, a_program_that_never_starts_the_spindle_and_cuts_nothing_is_told_both) {
  Scene s;
  s.feed_mm_min = 600;
  s.spindle = Spindle::off;
  s.rapid({0, 0, 1});
  s.feed({50, 0, 1});
  EXPECT_EQ(s.findings(air_cut_rule).at(0).message,
            "all cutting moves are in air (0:00:05), and the spindle never starts");
}

TEST(AirCut, half_is_allowed) {
  Scene s;
  s.feed_mm_min = 600;
  s.rapid({0, 0, 0});
  s.feed({50, 0, 0});
  s.feed({100, 0, 0});
  s.cuts(1, 1);
  EXPECT_TRUE(s.findings(air_cut_rule).empty());
}

TEST(AirCut, rapids_do_not_count_and_an_unknown_tool_says_nothing) {
  Scene s;
  s.rapid({100, 0, 5});
  EXPECT_TRUE(s.findings(air_cut_rule).empty());
  s.feed({50, 0, 5}).tool = 9;
  EXPECT_TRUE(s.findings(air_cut_rule).empty());
}

}  // namespace
}  // namespace provecut
