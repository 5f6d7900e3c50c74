#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

struct Start : Scene {
  Start() {
    job().machine.spindle_start_s = 4;
    job().machine.spindle_start_given = true;
    job().machine.max_rate_mm_min = {6000, 6000, 3000};  // 100 and 50 mm/s
  }
};

TEST(SpindleOff, cutting_with_the_spindle_off) {
  Start s;
  s.spindle = Spindle::off;
  s.feed({50, 50, -3});
  s.cuts(3, 3);
  s.feed({90, 50, -3});
  s.cuts(3, 3);
  const auto findings = s.findings(spindle_off_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::stop);
  EXPECT_EQ(findings[0].moves, 2u);
  EXPECT_EQ(findings[0].subject, "6 mm flat");
  EXPECT_FALSE(findings[0].amount.has_value());
  EXPECT_EQ(findings[0].message, "cuts with the spindle off");
  EXPECT_EQ(
      findings[0].help,
      "Start the spindle (M3 with S) and let it run for 4 s (G4) before this move. Check if your machine reads G4's "
      "P in seconds or in milliseconds. Do you switch the spindle by hand? Then add spindle = \"by-hand\" under "
      "[machine].");
}

TEST(SpindleOff, moving_in_the_air_needs_no_spindle) {
  Start s;
  s.spindle = Spindle::off;
  s.rapid({50, 50, 5});
  s.feed({50, 50, 1});
  EXPECT_TRUE(s.findings(spindle_off_rule).empty());
}

TEST(SpindleOff, m4_turns_an_ordinary_tool_backwards) {
  Start s;
  s.spindle = Spindle::ccw;
  s.feed({50, 50, -3});
  s.cuts(3, 3);
  ASSERT_EQ(s.findings(spindle_off_rule).size(), 1u);
  EXPECT_EQ(s.findings(spindle_off_rule)[0].message, "cuts with the spindle running backwards (M4)");
}

TEST(SpindleOff, m3_without_a_speed_does_not_turn) {
  Start s;
  s.rpm = 0;
  s.feed({50, 50, -3});
  s.cuts(3, 3);
  ASSERT_EQ(s.findings(spindle_off_rule).size(), 1u);
  EXPECT_EQ(s.findings(spindle_off_rule)[0].message, "cuts with the spindle on, but no speed is set (S0)");
}

TEST(SpindleOff, a_dwell_of_the_whole_start_up_time_is_enough) {
  Start s;
  s.rapid({50, 50, 2});
  s.event(EventKind::spindle_start, 18000);
  s.dwell(4);
  s.feed({90, 50, -3});
  s.cuts(3, 3);
  EXPECT_TRUE(s.findings(spindle_off_rule).empty());
}

TEST(SpindleOff, a_dwell_that_is_too_short_is_told_what_is_missing) {
  Start s;
  s.rapid({50, 50, 2});
  s.event(EventKind::spindle_start, 18000);
  s.dwell(1.5);
  s.feed({90, 50, -3});
  s.cuts(3, 3);
  const auto findings = s.findings(spindle_off_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_NEAR(*findings[0].amount, 1.5, 1e-6);
  EXPECT_EQ(findings[0].unit, "s");
  EXPECT_EQ(findings[0].message, "cuts only 1.5 s after the spindle starts (minimum 4 s)");
  EXPECT_EQ(
      findings[0].help,
      "Put a dwell (G4) of 4 s right after M3. Check if your machine reads G4's P in seconds or in milliseconds.");
  ASSERT_FALSE(findings[0].related.empty());
  EXPECT_EQ(findings[0].related.back().place.line, 2u);
}

// 4 s to 18,000 rpm at most are 3.333 s to 15,000.
TEST(SpindleOff, the_dwell_that_is_advised_is_the_minimum_that_is_told) {
  Start s;
  s.job().machine.spindle_start_given = false;
  s.job().machine.spindle_rpm_max = 18000;
  s.rapid({50, 50, 2});
  s.event(EventKind::spindle_start, 15000);
  s.dwell(1.5);
  s.feed({90, 50, -3});
  s.cuts(3, 3);
  ASSERT_EQ(s.findings(spindle_off_rule).size(), 1u);
  const Finding f = s.findings(spindle_off_rule)[0];
  EXPECT_EQ(f.message, "cuts only 1.5 s after the spindle starts (minimum 3.4 s)");
  EXPECT_TRUE(f.help.starts_with("Put a dwell (G4) of 3.4 s right after M3.")) << f.help;
}

// 4 s are needed. What is short by no more than a tenth does not stop, and of a time that is a guess it is a note.
TEST(SpindleOff, a_start_short_by_a_tenth_is_a_level_lower) {
  const auto levelAfter = [](double dwell_s, bool given) {
    Start s;
    s.job().machine.spindle_start_given = given;
    s.job().machine.spindle_rpm_max = 18000;
    s.rapid({50, 50, 2});
    s.event(EventKind::spindle_start, 18000);
    s.dwell(dwell_s);
    s.feed({90, 50, -3});
    s.cuts(3, 3);
    return s.findings(spindle_off_rule).at(0).level;
  };
  EXPECT_EQ(levelAfter(3.61, true), Level::look);
  EXPECT_EQ(levelAfter(3.59, true), Level::stop);
  EXPECT_EQ(levelAfter(3.61, false), Level::note);
  EXPECT_EQ(levelAfter(3.59, false), Level::look);
}

TEST(SpindleOff, moves_between_start_and_cut_count_as_time) {
  Start s;
  s.rapid({0, 0, 20});
  s.event(EventKind::spindle_start, 18000);
  s.rapid({100, 0, 20});  // 1 s at 100 mm/s
  s.rapid({100, 0, 5});   // 0.3 s at 50 mm/s
  s.feed_mm_min = 300;
  s.feed({100, 0, 0});  // 1 s
  s.feed({100, 8, 0});  // 1.6 s: 3.9 s so far
  s.feed({100, 8, -1});
  s.cuts(1, 1);
  const auto findings = s.findings(spindle_off_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_NEAR(*findings[0].amount, 3.9, 1e-5);
}

TEST(SpindleOff, the_way_down_through_the_air_counts_as_time_too) {
  Start s;
  s.feed_mm_min = 300;
  s.rapid({50, 50, 25});
  s.event(EventKind::spindle_start, 18000);
  s.feed({50, 50, -3});  // 28 mm at 5 mm/s; it meets the stock after 25 mm, that is after 5 s
  s.cuts(3, 3);
  EXPECT_TRUE(s.findings(spindle_off_rule).empty());
  s.last().start.z = 15;  // after 3 s
  ASSERT_EQ(s.findings(spindle_off_rule).size(), 1u);
  EXPECT_NEAR(*s.findings(spindle_off_rule)[0].amount, 3, 1e-5);
}

TEST(SpindleOff, every_new_start_needs_its_own_time) {
  Start s;
  s.event(EventKind::spindle_start, 18000);
  s.dwell(5);
  s.feed({50, 50, -1});
  s.cuts(1, 1);
  s.rapid({50, 50, 5});
  s.event(EventKind::spindle_stop);
  s.event(EventKind::spindle_start, 18000);
  s.feed({50, 50, -2});
  s.cuts(1, 1);
  const auto findings = s.findings(spindle_off_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].place.line, 4u);
}

// M0 stops the program, not the spindle.
TEST(SpindleOff, a_stop_after_the_start_gives_the_spindle_its_time) {
  for (const EventKind stop : {EventKind::stop, EventKind::optional_stop}) {
    Start s;
    s.rapid({50, 50, 2});
    s.event(EventKind::spindle_start, 18000);
    s.event(stop);
    s.feed({90, 50, -3});
    s.cuts(3, 3);
    EXPECT_TRUE(s.findings(spindle_off_rule).empty());
  }
}

TEST(SpindleOff, a_stop_before_the_start_gives_it_none) {
  Start s;
  s.rapid({50, 50, 2});
  s.event(EventKind::stop);
  s.event(EventKind::spindle_start, 18000);
  s.feed({90, 50, -3});
  s.cuts(3, 3);
  EXPECT_EQ(s.findings(spindle_off_rule).size(), 1u);
}

TEST(SpindleOff, a_start_time_that_nobody_measured_only_warns) {
  Start s;
  s.job().machine.spindle_start_given = false;
  s.event(EventKind::spindle_start, 18000);
  s.feed({90, 50, -3});
  s.cuts(3, 3);
  const auto early = s.findings(spindle_off_rule);
  ASSERT_EQ(early.size(), 1u);
  EXPECT_EQ(early[0].level, Level::look);
  EXPECT_TRUE(
      early[0].help.ends_with("If your spindle is faster, measure it and set spindle_start_s under [machine]."));
  // That it does not turn at all is no matter of time.
  s.last().spindle = Spindle::off;
  ASSERT_EQ(s.findings(spindle_off_rule).size(), 1u);
  EXPECT_EQ(s.findings(spindle_off_rule)[0].level, Level::stop);
}

TEST(SpindleOff, a_machine_that_changes_its_bits_itself_waits_for_its_spindle_unless_the_job_knows_better) {
  Start s;
  s.job().machine.tool_change_s = 12;
  s.event(EventKind::spindle_start, 18000);
  s.feed({90, 50, -3});
  s.cuts(3, 3);
  EXPECT_EQ(s.findings(spindle_off_rule).size(), 1u);
  s.job().machine.spindle_start_given = false;
  EXPECT_TRUE(s.findings(spindle_off_rule).empty());
  s.last().spindle = Spindle::off;
  EXPECT_EQ(s.findings(spindle_off_rule).size(), 1u);
}

TEST(SpindleOff, a_guessed_start_time_is_that_to_the_highest_speed) {
  Start s;
  s.job().machine.spindle_start_given = false;
  s.job().machine.spindle_rpm_max = 24000;
  s.event(EventKind::spindle_start, 6000);  // a quarter of 4 s
  s.dwell(1.1);
  s.feed({90, 50, -3});
  s.cuts(3, 3);
  EXPECT_TRUE(s.findings(spindle_off_rule).empty());
  s.program().events[0].value = 12000;
  const auto early = s.findings(spindle_off_rule);
  ASSERT_EQ(early.size(), 1u);
  EXPECT_EQ(early[0].message, "cuts only 1.1 s after the spindle starts (minimum 2 s)");
  // What the owner measured counts as it is.
  s.job().machine.spindle_start_given = true;
  s.program().events[0].value = 6000;
  EXPECT_EQ(s.findings(spindle_off_rule).size(), 1u);
}

// The stock is never as flat as its drawing: what runs along its very top cuts.
TEST(SpindleOff, a_face_mill_that_skims_the_top_under_m4_is_named_with_the_tool_that_cuts_under_it) {
  Start s;
  s.job().tools.push_back(s.tool());
  s.job().tools.back().number = 2;
  s.job().tools.back().name = "face mill";
  s.spindle = Spindle::ccw;
  s.rapid({-30, 50, 0}).tool = 2;
  s.feed({230, 50, 0}).tool = 2;
  s.rapid({50, 50, 5});
  s.feed({50, 60, -3});
  s.cuts(3, 3);
  const auto findings = s.findings(spindle_off_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].place.line, 2u);
  EXPECT_EQ(findings[0].moves, 2u);
  EXPECT_EQ(findings[0].message, "cuts with the spindle running backwards (M4), with 6 mm flat and face mill");
}

TEST(SpindleOff, under_m4_above_the_top_or_beside_the_stock_nothing_is_cut) {
  for (const WorkPoint to : {WorkPoint{150, 50, 0.5}, WorkPoint{-30, 80, 0}}) {
    Start s;
    s.spindle = Spindle::ccw;
    s.rapid({-30, 50, to.z});
    s.feed(to);
    EXPECT_TRUE(s.findings(spindle_off_rule).empty()) << to.x;
  }
}

TEST(SpindleOff, a_tap_turns_back_out_of_its_hole) {
  Start s;
  s.rapid({50, 50, 2});
  s.feed({50, 50, -9});
  s.cuts(9, 9);
  s.spindle = Spindle::ccw;
  s.feed({50, 50, 2});
  s.last().flags |= motion_in_cycle;
  EXPECT_TRUE(s.findings(spindle_off_rule).empty());
}

TEST(SpindleOff, one_cause_for_several_tools_is_told_once) {
  Start s;
  s.job().tools.push_back(s.tool());
  s.job().tools.back().number = 2;
  s.event(EventKind::spindle_start, 18000);
  s.feed({90, 50, -3});
  s.cuts(3, 3);
  s.event(EventKind::spindle_start, 18000);
  s.feed({95, 50, -3}).tool = 2;
  s.cuts(3, 3);
  const auto findings = s.findings(spindle_off_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].moves, 2u);
  EXPECT_EQ(findings[0].subject, "");
  EXPECT_TRUE(findings[0].message.ends_with(", with 2 tools")) << findings[0].message;
}

TEST(SpindleOff, a_speed_set_on_a_dial_needs_no_s_but_a_start) {
  Start s;
  s.job().machine.speed_by_hand = true;
  s.rpm = 0;
  s.feed({50, 50, -3});
  s.cuts(3, 3);
  EXPECT_TRUE(s.findings(spindle_off_rule).empty());
  s.last().spindle = Spindle::off;
  ASSERT_EQ(s.findings(spindle_off_rule).size(), 1u);
  EXPECT_EQ(s.findings(spindle_off_rule)[0].message, "cuts with the spindle off");
}

}  // namespace
}  // namespace provecut
