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

// Under G91 R and depth became increments: the cycle's own finding says so, and the zero is not to blame.
TEST(AirCut, holes_left_in_the_air_by_g91_are_told_by_the_cycles_own_finding) {
  const auto drilled = [](bool by_g91) {
    Scene s;
    s.feed_mm_min = 600;
    s.rapid({0, 0, 28});
    s.feed({0, 0, 14}).flags |= motion_in_cycle;
    s.rapid({30, 0, 5});
    s.feed({30, 0, -3});
    s.cuts(3, 3);
    if (by_g91) s.program().problems.push_back({ProblemKind::cycle_kept_as_increments, {}, {2, 1, 2}, {}, {}});
    return s.findings(air_cut_rule).size();
  };
  EXPECT_EQ(drilled(false), 1u);
  EXPECT_EQ(drilled(true), 0u);
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

// Forty holes, 18 mm deep, at 300 mm/min from R 25 mm above the stock. At R 3 mm each is 22 mm = 4.4 s shorter.
struct HighR : Scene {
  explicit HighR(double r = 25, bool at_r = true) {
    feed_mm_min = 300;
    for (int k = 0; k < 40; ++k) {
      rapid({4.0 * k, 20, at_r ? r : 40}).flags = motion_in_cycle;
      if (!at_r) rapid({4.0 * k, 20, r}).flags = motion_in_cycle;
      feed({4.0 * k, 20, -18}).flags = motion_in_cycle;
      cuts(18, 18);
    }
  }
};

TEST(AirCut, what_a_cycle_feeds_from_a_high_r_counts_with_the_r_to_use) {
  HighR s;
  const auto findings = s.findings(air_cut_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].moves, 40u);
  EXPECT_NEAR(*findings[0].amount, 100 * 22.0 / 43, 1e-6);
  EXPECT_EQ(findings[0].message,
            "the cycles' R is 25 mm above the stock: a lower R saves 0:02:56 of 0:05:44 cutting time");
  EXPECT_EQ(findings[0].help, "Lower this cycle's R to 3 mm.");
}

TEST(AirCut, an_r_at_the_clearance_is_as_low_as_it_should_be) {
  EXPECT_TRUE(HighR(3).findings(air_cut_rule).empty());
  EXPECT_TRUE(HighR(8).findings(air_cut_rule).empty()) << "40 s are not worth a word";
}

TEST(AirCut, where_the_tool_travels_at_r_it_stays_above_the_hold_downs) {
  HighR travels;
  travels.addHoldDown(clamp("clamp A", {190, 90}, {20, 20}, 12));
  EXPECT_EQ(travels.findings(air_cut_rule).at(0).help, "Lower this cycle's R to 15 mm.");
  HighR lifts(25, false);
  lifts.addHoldDown(clamp("clamp A", {190, 90}, {20, 20}, 12));
  EXPECT_EQ(lifts.findings(air_cut_rule).at(0).help, "Lower this cycle's R to 3 mm.");
}

TEST(AirCut, a_peck_that_begins_in_the_hole_is_all_cut) {
  HighR s(3);
  for (int k = 0; k < 40; ++k) {
    s.feed_mm_min = 100;
    s.rapid({4.0 * k, 20, -9}).flags = motion_in_cycle;
    s.feed({4.0 * k, 20, -12}).flags = motion_in_cycle;
    s.cuts(3, 3);
  }
  EXPECT_TRUE(s.findings(air_cut_rule).empty());
}

TEST(AirCut, a_pass_at_the_very_top_skims_the_board) {
  Scene s;
  s.rapid({0, 0, 0});
  for (int k = 0; k < 6; ++k) s.feed({k % 2 ? 0.0 : 200.0, 10.0 * k, 0});
  s.feed({0, 0, -1});
  s.cuts(1, 1);
  EXPECT_TRUE(s.findings(air_cut_rule).empty());
  Scene lower;  // below the top, and nothing is there: it was cut before
  lower.rapid({0, 0, -1});
  for (int k = 0; k < 6; ++k) lower.feed({k % 2 ? 0.0 : 200.0, 10.0 * k, -1});
  lower.feed({0, 0, -2});
  lower.cuts(1, 1);
  EXPECT_EQ(lower.findings(air_cut_rule).size(), 1u);
}

TEST(AirCut, ways_above_the_stock_at_the_cutting_feed_should_be_rapids) {
  Scene s;
  s.feed({0, 0, -3});
  s.cuts(3, 3);
  s.rapid({0, 0, 5});
  s.feed({190, 0, 5});
  s.feed({190, 90, 5});
  EXPECT_EQ(s.findings(air_cut_rule).at(0).help,
            "The tool travels above the stock at its cutting feed: make these moves rapids (G0).");
}

// 460 holes, each back up to Z 50 from R 3: 2 · 47 mm at 3,000 mm/min is 1.88 s.
TEST(AirCut, a_cycle_that_goes_all_the_way_up_after_each_hole_is_told_what_g99_saves) {
  Scene s;
  s.job().machine.max_rate_mm_min = {5000, 5000, 3000};
  s.feed_mm_min = 500;
  s.rapid({0, 20, 50});
  for (int k = 0; k < 460; ++k) {
    const double x = 0.4 * k;
    s.rapid({x, 20, 50}).flags = motion_in_cycle;
    s.rapid({x, 20, 3}).flags = motion_in_cycle;
    s.feed({x, 20, -5}).flags = motion_in_cycle;
    s.cuts(5, 5);
    s.rapid({x, 20, 50}).flags = motion_in_cycle;
  }
  const auto findings = s.findings(air_cut_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message,
            "cycles go back up to 50 mm above the stock after every hole: 0:14:25 of rapids for 0:07:22 of cutting");
  EXPECT_EQ(findings[0].help,
            "Use G99: the tool then goes back up only to R. R at Z 3 mm or higher clears everything there.");
}

TEST(AirCut, a_path_that_is_cut_twice_is_told_as_one) {
  Scene s;
  for (const bool again : {false, true, true}) {
    for (const double x : {20.0, 60.0, 100.0, 140.0}) {
      s.feed({x, 40, -3});
      if (!again) s.cuts(3, 3);
    }
    s.rapid({0, 0, 20});
  }
  const auto findings = s.findings(air_cut_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].help,
            "Lines 6 to 14 run a path a second time that is cut already: delete them if that is not meant.");
}

TEST(AirCut, rapids_do_not_count_and_an_unknown_tool_says_nothing) {
  Scene s;
  s.rapid({100, 0, 5});
  EXPECT_TRUE(s.findings(air_cut_rule).empty());
  s.feed({50, 0, 5}).tool = 9;
  EXPECT_TRUE(s.findings(air_cut_rule).empty());
}

// Too few holes for a minute, yet the air is all R's: nothing is cut twice.
TEST(AirCut, a_few_holes_from_a_high_r_are_told_of_r) {
  Scene s;
  for (int k = 0; k < 10; ++k) {
    s.rapid({9.0 * k, 20, 20}).flags = motion_in_cycle;
    s.feed({9.0 * k, 20, -6}).flags = motion_in_cycle;
    s.cuts(6, 6);
  }
  const auto findings = s.findings(air_cut_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].help, "Lower this cycle's R to 3 mm.");
}

// Q 3 from R 40: the peck from 4 to 1 would begin at R 3, so that 1 mm of it is saved, and 37 mm per hole.
TEST(AirCut, of_a_peck_in_air_only_what_is_above_the_r_to_use_is_saved) {
  Scene s;
  s.feed_mm_min = 300;
  for (int k = 0; k < 20; ++k) {
    for (double z = 40; z > -5; z -= 3) {
      s.rapid({9.0 * k, 20, z}).flags = motion_in_cycle;
      s.feed({9.0 * k, 20, z - 3}).flags = motion_in_cycle;
      if (z < 3) s.cuts(2, 2);
    }
  }
  const auto findings = s.findings(air_cut_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_NE(findings[0].message.find("0:02:28 of"), std::string::npos) << findings[0].message;  // 20 × 37 mm at 5 mm/s
}

}  // namespace
}  // namespace provecut
