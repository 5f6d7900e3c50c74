// Stock, spindle, tools and screws of a first job file, from what the programs cut.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "parser/job_file/job_file.h"
#include "tests/report/draft/survey_of.h"

namespace provecut {
namespace draft_stock_test {

using testing::HasSubstr;
using testing::Not;

// A pocket from 30 to 90 that is entered along a line from X0 and left along one to X140.
TEST(DraftStock, does_not_reach_out_to_lead_ins) {
  const std::string cut = "G21 G90 T1 M6\nG0 X2 Y40 Z5\nG1 Z-4 F300\nX30\nY80\nX90\nY30\nX30\nY40\nX32\nX140\nG0 Z5\n";
  EXPECT_LT(surveyOf(cut).stock.size_mm.x, 130);
  // As an open groove it is a cut from end to end.
  EXPECT_GT(surveyOf("G21 G90 T1 M6\nG0 X2 Y40 Z5\nG1 Z-4 F300\nX140\nG0 Z5\n").stock.size_mm.x, 140);
}

// Round a part of 100 x 60 from a line and an arc beside it; the way closes where the arc ends.
TEST(DraftStock, keeps_all_of_a_way_that_goes_round_a_part) {
  const draft::Survey survey = surveyOf(
      "(T1 D=6 end mill)\nG21 G90 T1 M6\nG0 X50 Y-40 Z5\nG1 Z-4 F300\nY-13\nG3 X40 Y-3 I-10 J0\nG1 X-3\nY63\nX103\n"
      "Y-3\nX40\nG3 X30 Y-13 I0 J-10\nG1 Y-40\nG0 Z5\n");
  EXPECT_EQ(survey.programs.at(0).core.low.y, -3);
  EXPECT_EQ(survey.programs.at(0).core.low.x, -3);
  EXPECT_EQ(survey.programs.at(0).core.high.x, 103);
  // Without leads every side of it counts.
  const draft::Survey plain =
      surveyOf("(T1 D=6 end mill)\nG21 G90 T1 M6\nG0 X-3 Y-3 Z5\nG1 Z-4 F300\nX103\nY63\nX-3\nY-3\nG0 Z5\n");
  EXPECT_EQ(plain.programs.at(0).core.high.x, 103);
  EXPECT_EQ(plain.programs.at(0).core.high.y, 63);
}

// Two lines over all of a board whose corner is zero, as its comment says: nothing is left beside them.
TEST(DraftStock, ends_where_the_cuts_do_when_they_begin_at_an_edge_that_a_comment_names) {
  const draft::Survey survey = surveyOf(
      "(Origin: Top left of stock)\nG21 G90 T1 M6\nG0 X0 Y-205 Z5\nG1 Z-4 F300\nX364\nG0 Z5\nX0 Y0\nG1 Z-4\nX364\nG0 "
      "Z5\n");
  EXPECT_EQ(survey.stock.size_mm.x, 364);
  EXPECT_EQ(survey.stock.size_mm.y, 205);
}

// A 60 degree vee that goes 0.1 mm deep cuts 0.06 mm to each side, not half its diameter.
TEST(DraftStock, is_not_widened_by_the_part_of_a_vee_that_does_not_cut) {
  const draft::Survey survey =
      surveyOf("(T1 D=12 60 deg vee)\nG21 G90 T1 M6\nG0 X2 Y3 Z5\nG1 Z-0.1 F300\nX36\nY25\nX2\nY3\nG0 Z5\n");
  EXPECT_EQ(survey.setups.at(0).zero_x.word, "left");
  EXPECT_EQ(survey.setups.at(0).zero_y.word, "front");
}

// Carved 4 mm deep: in stock of 4 mm each letter would come loose.
TEST(DraftStock, is_thicker_than_a_vee_goes_deep) {
  const std::string vee = "(T1 D=12 60 deg v-bit)\n", flat = "(T1 D=12 flat end mill)\n";
  const std::string cut = "G21 G90 T1 M6\nG0 X20 Y20 Z5\nG1 Z-4 F300\nX80\nY60\nX20\nY20\nG0 Z5\n";
  EXPECT_GT(surveyOf(vee + cut).stock.size_mm.z, 10);
  EXPECT_THAT(draftTextOf(vee + cut), HasSubstr("such bits do not cut through"));
  EXPECT_EQ(surveyOf(flat + cut).stock.size_mm.z, 4);
  EXPECT_EQ(surveyOf(vee + flat + cut + "(T2 D=6 flat end mill)\nT2 M6\nG0 X9\nG1 Z-6\nX50\nG0 Z5\n").stock.size_mm.z,
            6);
}

TEST(DraftStock, says_what_its_thickness_was_guessed_from) {
  EXPECT_THAT(draftTextOf("G21 G90 T1 M6\nG0 X9 Y9 Z15\nG1 Z6.5 F100\nX50\nG0 Z15\n"),
              HasSubstr("how high above zero the highest level cut is"));
  EXPECT_THAT(draftTextOf("G21 G90 T1 M6\nG0 X9 Y9 Z5\nG1 Z-0.1 F100\nX50\nG0 Z5\n"),
              HasSubstr("only an example; the cuts are too shallow to tell"));
}

// A 40 mm face mill runs over all edges of stock of 100 x 60.
TEST(DraftStock, does_not_reach_out_to_the_overrun_of_facing) {
  const std::string facing =
      "(T9 D=40 face mill)\n(T1 D=6 flat end mill)\nG21 G90 T9 M6\nG0 X-30 Y10 Z5\nG1 Z-0.5 F300\nX130\nY40\nX-30\nG0 "
      "Z5\n";
  const std::string pocket = "T1 M6\nG0 X20 Y20 Z5\nG1 Z-5 F300\nX80\nY40\nX20\nY20\nG0 Z5\n";
  const Vec3 size = surveyOf(facing + pocket).stock.size_mm;
  EXPECT_LE(size.x, 110);
  // Where nothing else is cut the path of the face mill is all there is to go by.
  EXPECT_GE(surveyOf(facing).stock.size_mm.x, 150);
}

TEST(DraftStock, is_the_one_that_a_comment_gives) {
  const draft::Survey survey =
      surveyOf("(STOCK 4 x 5 x 1)\nG20 G90 T1 M6\nG0 X-0.5 Y-1 Z.2\nG1 Z-.25 F9\nX3.9\nY-2\nG0 Z.2\n");
  EXPECT_EQ(survey.stock.size_mm, (Vec3{101.6, 127, 25.4}));
  ASSERT_EQ(survey.setups.size(), 1U);
  EXPECT_EQ(survey.setups[0].zero_x.word, "left");
  EXPECT_EQ(survey.setups[0].zero_y.word, "back");  // the cuts go to Y -2: on the stock only from its back edge
}

TEST(DraftStock, has_zero_on_the_far_side_where_all_cuts_are_below_it) {
  const draft::Survey survey = surveyOf("G21 G90 T1 M6\nG0 X-90 Y-50 Z5\nG1 Z-4 F300\nX-10\nY-10\nG0 Z5\n");
  EXPECT_EQ(survey.setups.at(0).zero_x.word, "right");
  EXPECT_EQ(survey.setups.at(0).zero_y.word, "back");
}

TEST(DraftStock, asks_for_the_thickness) {
  const std::string text = draftTextOf("G21 G90 T1 M6\nG0 X10 Y10 Z5\nG1 Z-4 F300\nX90\nY50\nG0 Z5\n");
  EXPECT_THAT(text, HasSubstr("The thickness: no program tells it."));
  EXPECT_THAT(text, HasSubstr("unconfirmed = [\"size\", \"grain\"]"));
}

// Moves at feed above the stock, as some exporters write them.
TEST(DraftStock, does_not_reach_out_to_moves_in_the_air) {
  const draft::Survey survey =
      surveyOf("G21 G90 T1 M6\nG0 X0 Y0 Z5\nG1 X300 Y200 F2000\nX40 Y40\nZ-4 F300\nX90\nY80\nG1 Z5 F2000\nX0 Y0\n");
  EXPECT_LT(survey.stock.size_mm.x, 150);
  EXPECT_LT(survey.stock.size_mm.y, 150);
  EXPECT_EQ(survey.stock.size_mm.z, 4);
}

TEST(DraftStock, has_zero_on_the_underside_where_all_is_cut_above_it) {
  // Pecks to 6.5 mm above the bed of zero, and nothing lower.
  EXPECT_TRUE(surveyOf("G21 G90 T1 M6\nG0 X9 Y9 Z15\nG1 Z6.5 F100\nG0 Z15\n").setups.at(0).zero_on_bottom);
  // Far below zero it is the top, however long the moves in the air are.
  EXPECT_FALSE(surveyOf("G21 G90 T1 M6\nG0 X9 Y9 Z10\nG1 Z5 F900\nX500\nX9\nZ-12 F100\nX20\nG0 Z10\n")
                   .setups.at(0)
                   .zero_on_bottom);
  EXPECT_FALSE(surveyOf("G21 G90 T1 M6\nG1 X500 Y9 Z5 F900\nG0 X9 Z5\nG1 X300 F900\nZ-0.1 F100\nX20\nZ5\n")
                   .setups.at(0)
                   .zero_on_bottom);
}

// A 6 mm bit whose path begins at X0: its kerf is 3 mm wider, so that zero is the part's corner, not the stock's.
TEST(DraftStock, has_zero_inside_where_the_cutter_would_run_over_the_edge) {
  const draft::Survey survey =
      surveyOf("(T1 D=6 end mill)\nG21 G90 T1 M6\nG0 X0 Y0 Z5\nG1 Z-4 F300\nX60\nY40\nX0\nY0\n");
  EXPECT_TRUE(survey.setups.at(0).zero_x.word.empty());
  EXPECT_GE(survey.setups.at(0).zero_x.from_corner_mm, 3);
  EXPECT_GE(survey.stock.size_mm.x, 66);
}

TEST(DraftStock, has_its_zero_and_material_as_comments_say) {
  const std::string text = draftTextOf(
      "(Origin: Top left of stock)\n(Material: Hardwood)\nG21 G90 T1 M6\nG0 X10 Y-50 Z5\nG1 Z-4 F300\nX90\nY-20\n");
  EXPECT_THAT(text, HasSubstr("zero = [\"left\", \"back\", \"top\"]"));
  EXPECT_THAT(text, HasSubstr("\nmaterial = \"hardwood\""));
  // Two zeros cannot both be the setup's.
  EXPECT_THAT(draftTextOf("(OP 1, G54 BACK-LEFT-TOP)\n(OP 2, G54 FRONT-LEFT-TOP)\nG21 G90 T1 M6\nG1 X9 Z-1 F90\n"),
              HasSubstr("more than one zero"));
}

TEST(DraftProgram, that_states_no_unit_says_so) {
  EXPECT_THAT(draftTextOf("G90 T1 M6\nG0 X10 Y10 Z5\nG1 Z-4 F300\nX90\n"), HasSubstr("the program sets no unit"));
  EXPECT_THAT(draftTextOf("G21 G90 T1 M6\nG0 X10 Y10 Z5\nG1 Z-4 F300\nX90\n"),
              Not(HasSubstr("the program sets no unit")));
}

TEST(DraftTool, that_only_goes_straight_down_is_taken_for_a_drill) {
  const std::string text = draftTextOf("G21 G90 T3 M6\nG0 X10 Y10 Z5\nG1 Z-4 F300\nG0 Z5\n");
  EXPECT_THAT(text, HasSubstr("shape = \"drill\""));
  EXPECT_THAT(text, HasSubstr("unconfirmed = [\"shape\", "));
}

TEST(DraftTool, with_its_size_in_place_of_its_number_is_read) {
  const std::string text =
      draftTextOf("G21 G90\nT4 (drill diameter for what follows)\nG0 X10 Y10 Z5\nG1 Z-4 F300\nX90\nG0 Z5\n");
  EXPECT_THAT(text, HasSubstr("diameter = 4\n"));
  EXPECT_THAT(draftTextOf("G21 G90\n(tool diameter is compensated)\nT4 M6\nG0 X10 Y10 Z5\nG1 Z-4 F300\nX90\n"),
              HasSubstr("diameter = 6                      # FILL IN"));
}

TEST(DraftSpindle, turns_as_the_programs_say) {
  const std::string slow = "G21 G90 T1 M6\nM3 S3000\nG0 X10 Y10 Z5\nG1 Z-4 F300\nX90\nG0 Z5\n";
  EXPECT_THAT(draftTextOf(slow), HasSubstr("\nspindle_rpm = [3000, 24000]"));
  EXPECT_THAT(draftTextOf(slow), HasSubstr("unconfirmed = [\"profile\", \"spindle_rpm\"]"));
  const std::string usual = "G21 G90 T1 M6\nM3 S12000\nG0 X10 Y10 Z5\nG1 Z-4 F300\nX90\nG0 Z5\n";
  EXPECT_THAT(draftTextOf(usual), Not(HasSubstr("\nspindle_rpm")));
}

TEST(DraftTool, has_all_that_its_comment_gives) {
  const std::string text = draftTextOf(
      "(T1 D=3.175 2 flute end mill, 12mm LOC, 6mm shank)\nG21 G90 T1 M6\nG0 X10 Y10 Z5\nG1 Z-4 F300\nX90\nG0 Z5\n");
  EXPECT_THAT(text, HasSubstr("\nflutes = 2\n"));
  EXPECT_THAT(text, HasSubstr("\nflute_length = 12\n"));
  EXPECT_THAT(text, HasSubstr("\nshank_diameter = 6\n"));
  EXPECT_THAT(text, HasSubstr("unconfirmed = [\"stickout\"]"));
}

TEST(DraftTool, that_is_tapered_has_its_tip_from_the_comment_and_its_diameter_to_fill_in) {
  const std::string text = draftTextOf(
      "(T1 D=1. CR=0.5 TAPER=5deg - tapered mill)\nG21 G90 T1 M6\nG0 X10 Y10 Z5\nG1 Z-1 F300\nX90\nG0 Z5\n");
  EXPECT_THAT(text, HasSubstr("shape = \"taper-ball\""));
  EXPECT_THAT(text, HasSubstr("tip_radius = 0.5"));
  EXPECT_THAT(text, HasSubstr("taper = 5 "));
  EXPECT_THAT(text, HasSubstr("unconfirmed = [\"diameter\", "));
}

// "#7 drill" is 0.201 in; beside the call of tool 7 it may as well mean that tool.
TEST(DraftTools, a_number_drill_gives_its_diameter_unless_the_number_may_be_the_tools) {
  const auto surveyed = surveyOf(
      "G20 G90\nT7 M6 (#7 DRILL)\nG0 X1 Y1 Z0.5\nG1 Z-0.1 F10\nG0 Z0.5\nT8 M6 (#7 DRILL)\nG0 X2\nG1 Z-0.1\nG0 Z0.5\n");
  EXPECT_FALSE(surveyed.tools.at(7).diameter_known);
  ASSERT_TRUE(surveyed.tools.at(8).diameter_known);
  EXPECT_NEAR(surveyed.tools.at(8).diameter_mm, 5.1054, 1e-9);
}

TEST(DraftStock, takes_the_size_of_a_panel_from_the_header) {
  const auto surveyed = surveyOf("(PANEL 4X3 .063 ALUM)\nG20 G90 T1 M6\nG0 X1 Y1 Z0.5\nG1 Z-0.05 F10\nX3\nG0 Z0.5\n");
  EXPECT_NEAR(surveyed.stock.size_mm.x, 101.6, 1e-9);
  EXPECT_NEAR(surveyed.stock.size_mm.z, 1.6002, 1e-9);
  EXPECT_EQ(surveyed.stock.material, Material::aluminium);
}

TEST(DraftSpots, are_corners_and_edges_that_no_cut_comes_near) {
  // One groove along Y 180, on stock that is as deep again behind it: its ends are not free, all else is.
  const std::string text = draftTextOf(
      "(T1 D=6 flat end mill)\nG21 G90 T1 M6\nG0 X10 Y180 Z10\nG1 Z-4 F300\nX290\nG0 Z10\nX0 Y200\nG0 X290 Y200\n");
  EXPECT_THAT(text, HasSubstr("#   front:  [20, 20]"));
  EXPECT_THAT(text, HasSubstr("[150, 20]"));
  EXPECT_THAT(text, Not(HasSubstr("[20, 180]")));
}

}  // namespace draft_stock_test
}  // namespace provecut
