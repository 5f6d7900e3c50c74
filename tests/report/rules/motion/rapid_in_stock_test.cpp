#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(RapidInStock, a_rapid_straight_down_into_the_stock_is_stopped_where_the_material_begins) {
  Scene s;
  s.rapid({50, 50, 5});
  s.rapid({50, 50, -3});
  s.cuts(3, 3);
  const auto findings = s.findings(rapid_in_stock_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::stop);
  EXPECT_EQ(findings[0].place.line, 2u);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 3);
  EXPECT_EQ(findings[0].unit, "mm");
  EXPECT_EQ(findings[0].message, "rapid plunges 3 mm into the stock (3.33 mm² in plan)");
  EXPECT_EQ(findings[0].help,
            "End this rapid at Z 3 mm, 3 mm above the material, and go down from there at the plunge feed.");
}

TEST(RapidInStock, a_sideways_rapid_is_to_retract_above_the_stock) {
  Scene s;
  s.job().limits.clearance_mm = 3;
  s.feed({50, 50, -3});
  s.rapid({90, 50, -3});
  s.cuts(3, 3);
  s.programRun().cuts.back().section_mm2 = 18;
  s.programRun().cuts.back().max_radial_depth_mm = 6;
  const auto findings = s.findings(rapid_in_stock_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message, "rapid cuts 3 mm into the stock (6 mm wide, 18 mm² in section)");
  EXPECT_EQ(findings[0].help, "Retract to Z 3 mm or higher before this move.");
}

// A retract before it would be lower than the tool already is.
TEST(RapidInStock, a_rapid_that_comes_down_on_its_way_is_to_stay_up_until_it_is_there) {
  Scene s;
  s.job().limits.clearance_mm = 3;
  s.rapid({10, 50, 10});
  s.rapid({90, 50, -3});
  s.cuts(3, 3);
  s.feed({90, 80, -3});
  const auto findings = s.findings(rapid_in_stock_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].help, "Stay at Z 3 mm or higher on this move, and come down after it at the plunge feed.");
}

// One retract before both, and one way down for all that plunge.
TEST(RapidInStock, rapids_of_both_kinds_are_each_told_what_to_do) {
  Scene s;
  s.job().limits.clearance_mm = 3;
  s.feed({50, 50, -3});
  s.rapid({90, 50, -3});
  s.cuts(3, 3);
  s.rapid({90, 50, 5});
  s.rapid({90, 90, 5});
  s.rapid({90, 90, -4});
  s.cuts(4, 4);
  const auto findings = s.findings(rapid_in_stock_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].help,
            "Retract to Z 3 mm or higher before this move. End this rapid at Z 3 mm, 3 mm above the material, and go "
            "down from there at the plunge feed.");
}

// Who writes that takes the place for cleared.
TEST(RapidInStock, deep_rapids_straight_down_again_and_again_ask_for_the_program_that_clears_the_place) {
  Scene s;
  const auto plungeAt = [&](double x, double depth_mm) {
    s.rapid({x, 50, 5});
    s.rapid({x, 50, -depth_mm});
    s.cuts(depth_mm, depth_mm);
  };
  plungeAt(50, 7);
  plungeAt(70, 7);
  const auto asked = [&] {
    return s.findings(rapid_in_stock_rule)[0].help.starts_with(
        "If another program clears this place, list it before this one in the job file. Otherwise: End the rapids");
  };
  EXPECT_FALSE(asked());
  plungeAt(90, 5);  // less than the bit's 6 mm
  EXPECT_FALSE(asked());
  plungeAt(110, 7);
  EXPECT_TRUE(asked());
}

// A retract before it would leave the cut that follows in the air.
TEST(RapidInStock, a_level_rapid_between_two_cuts_at_its_depth_was_probably_to_cut) {
  Scene s;
  s.job().limits.clearance_mm = 3;
  s.feed({50, 50, -3});
  s.rapid({90, 50, -3});
  s.cuts(3, 3);
  s.programRun().cuts.back().section_mm2 = 18;
  s.programRun().cuts.back().section_height_mm = 3;
  s.feed({90, 80, -3});
  s.cuts(3, 3);
  s.programRun().cuts.back().section_mm2 = 18;
  s.programRun().cuts.back().section_height_mm = 3;
  const Finding f = s.findings(rapid_in_stock_rule).at(0);
  EXPECT_EQ(f.level, Level::stop);
  EXPECT_EQ(f.help,
            "If this move is to cut, write G1 in place of G0, at 1,000 mm/min. Else retract to Z 3 mm or higher before "
            "this move, and come down after it at the plunge feed.");
  s.programRun().cuts.back() = {};  // the next one runs in the air
  EXPECT_EQ(s.findings(rapid_in_stock_rule).at(0).help.substr(0, 7), "Retract");
}

TEST(RapidInStock, a_cycle_is_to_raise_its_r) {
  Scene s;
  s.rapid({50, 50, -1}).flags = motion_in_cycle;
  s.cuts(1, 1);
  ASSERT_EQ(s.findings(rapid_in_stock_rule).size(), 1u);
  EXPECT_EQ(s.findings(rapid_in_stock_rule)[0].help, "Raise this cycle's R to 3 mm.");
}

TEST(RapidInStock, a_micrometre_is_rounding_of_the_cut_and_a_little_more_is_not) {
  Scene s;
  s.rapid({50, 50, -1});
  s.cuts(0.001, 0.001);
  EXPECT_TRUE(s.findings(rapid_in_stock_rule).empty());
  s.cuts(0.0011, 0.0011);
  EXPECT_EQ(s.findings(rapid_in_stock_rule).size(), 1u);
}

TEST(RapidInStock, a_feed_move_may_cut_and_a_rapid_in_a_slot_may_run) {
  Scene s;
  s.feed({50, 50, -3});
  s.cuts(3, 3);
  s.rapid({50, 50, 5});
  s.cuts(0, 0, 0);
  EXPECT_TRUE(s.findings(rapid_in_stock_rule).empty());
}

TEST(RapidInStock, of_a_point_the_width_and_the_area_seen_from_above_are_means_and_said_to_be) {
  Scene s;
  s.tool().shape = ToolShape::vee;
  s.tool().angle_deg = 60;
  s.rapid({50, 50, 5});
  s.rapid({50, 50, -3});
  s.cuts(3, 2.9, 9);
  const Finding f = s.findings(rapid_in_stock_rule).at(0);
  EXPECT_TRUE(f.message.ends_with(" in plan on average)")) << f.message;
}

TEST(RapidInStock, a_small_cut_is_told_to_the_hundredth_of_a_square_millimetre) {
  Scene s;
  s.feed({50, 50, -3});
  s.rapid({90, 50, -3});
  s.cuts(3, 3);
  s.programRun().cuts.back().section_mm2 = 0.528F;
  s.programRun().cuts.back().max_radial_depth_mm = 0.175F;
  EXPECT_EQ(s.findings(rapid_in_stock_rule).at(0).message,
            "rapid cuts 3 mm into the stock (0.17 mm wide, 0.53 mm² in section)");
}

}  // namespace
}  // namespace provecut
