#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "parser/job_file/job_file.h"
#include "tests/parser/job_file/marked_text.h"

namespace provecut {
namespace job_file_tools_test {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

std::string jobWith(const std::string& tool, const std::string& units = "mm") {
  return "version = 1\nunits = \"" + units +
         "\"\n[stock]\nsize = [100, 100, 10]\n[[setup]]\n[[setup.program]]\nfile = "
         "\"a.nc\"\n[[tool]]\nnumber = 1\n" +
         tool;
}

Tool toolOf(const std::string& tool, const std::string& units = "mm") {
  const JobReading reading = readJob(jobWith(tool, units), "job.toml");
  EXPECT_THAT(messagesOf(reading.problems), IsEmpty());
  return reading.job ? reading.job->tools.at(0) : Tool{};
}

std::vector<std::string> complaints(const std::string& tool) {
  return messagesOf(readJob(jobWith(tool), "job.toml").problems);
}

TEST(ToolDefaults, flutes_do_not_reach_above_the_stickout) {
  EXPECT_EQ(toolOf("shape = \"flat\"\ndiameter = 12\nstickout = 30").flute_length_mm, 30);
}

TEST(ToolDefaults, stickout_is_10_mm_above_the_flutes) {
  EXPECT_EQ(toolOf("shape = \"flat\"\ndiameter = 6\nflute_length = 25").stickout_mm, 35);
}

TEST(ToolDefaults, a_drill_has_118_degrees) {
  EXPECT_EQ(toolOf("shape = \"drill\"\ndiameter = 5").angle_deg, 118);
}

TEST(ToolDefaults, a_surfacing_bit_does_not_cut_at_its_centre) {
  EXPECT_FALSE(toolOf("shape = \"surfacing\"\ndiameter = 25").center_cutting);
  EXPECT_TRUE(toolOf("shape = \"surfacing\"\ndiameter = 25\ncenter_cutting = true").center_cutting);
  EXPECT_TRUE(toolOf("shape = \"flat\"\ndiameter = 25").center_cutting);
}

TEST(ToolDefaults, a_slender_vee_has_flutes_up_to_its_full_diameter) {
  // A cone of 10 degrees reaches radius 5 mm at 5 / tan 5° (geometry).
  EXPECT_NEAR(toolOf("shape = \"vee\"\ndiameter = 10\nangle = 10").flute_length_mm, 5 / std::tan(std::acos(-1) / 36),
              1e-9);
}

TEST(ToolDefaults, a_form_tool_has_its_diameter_and_neck_from_its_profile) {
  // A T-slot cutter: 16 mm head, 3 mm thick, on an 8 mm neck.
  const Tool tool = toolOf("shape = \"form\"\nprofile = [[0, 0], [8, 0], [8, 3], [4, 3], [4, 12]]");
  EXPECT_EQ(tool.diameter_mm, 16);
  EXPECT_EQ(tool.shank_diameter_mm, 8);
  EXPECT_EQ(tool.flute_length_mm, 12);
  EXPECT_EQ(tool.profile_mm.size(), 5u);
}

TEST(ToolUnits, lengths_and_rates_are_inches_where_the_file_says_so) {
  const Tool tool = toolOf(
      "shape = \"vee\"\ndiameter = 0.5\nangle = 60\ntip_diameter = 0.01\nplunge_feed = 30\nmax_rpm = 18000\n"
      "max_stepdown = 0.25\nup_cut_length = 0.3\nchip_load = [0.002, 0.006]\nstickout = 1.5",
      "in");
  EXPECT_DOUBLE_EQ(tool.diameter_mm, 12.7);
  EXPECT_DOUBLE_EQ(tool.tip_diameter_mm, 0.254);
  EXPECT_EQ(tool.angle_deg, 60);  // angles and speeds have no length in them
  EXPECT_EQ(tool.max_rpm, 18000);
  EXPECT_DOUBLE_EQ(*tool.plunge_feed_mm_min, 762);
  EXPECT_DOUBLE_EQ(tool.chip_load_mm->x, 0.0508);
  EXPECT_DOUBLE_EQ(tool.stickout_mm, 38.1);
  EXPECT_DOUBLE_EQ(*tool.up_cut_length_mm, 7.62);
  EXPECT_EQ(tool.name, "0.5 in vee");
}

TEST(ToolUnits, the_speed_to_dial_is_the_tools_own_and_a_number_above_zero) {
  EXPECT_EQ(toolOf("shape = \"flat\"\ndiameter = 6\nrpm = 16000").rpm, 16000);
  EXPECT_FALSE(toolOf("shape = \"flat\"\ndiameter = 6").rpm.has_value());
  EXPECT_EQ(complaints("shape = \"flat\"\ndiameter = 6\nrpm = 0").size(), 1u);
}

TEST(ToolUnits, a_name_made_of_inches_has_no_digits_of_rounding) {
  EXPECT_EQ(toolOf("shape = \"flat\"\ndiameter = 0.375", "in").name, "0.375 in flat");
}

TEST(ToolShapes, each_says_what_it_lacks) {
  EXPECT_THAT(complaints("shape = \"bull\"\ndiameter = 6"),
              ElementsAre(HasSubstr("tool 1 (bull) has no `corner_radius`")));
  EXPECT_THAT(complaints("shape = \"vee\"\ndiameter = 6"), ElementsAre(HasSubstr("tool 1 (vee) has no `angle`")));
  EXPECT_THAT(complaints("shape = \"taper-ball\"\ndiameter = 6"),
              ElementsAre(HasSubstr("no `taper`"), HasSubstr("no `tip_radius`")));
  EXPECT_THAT(complaints("shape = \"form\""), ElementsAre(HasSubstr("no `profile`")));
  EXPECT_THAT(complaints("shape = \"ball\""), ElementsAre(HasSubstr("no `diameter`")));
}

TEST(ToolShapes, a_key_of_another_shape_is_not_ignored) {
  EXPECT_THAT(complaints("shape = \"flat\"\ndiameter = 6\ncorner_radius = 1"),
              ElementsAre(HasSubstr("tool 1 (flat) has `corner_radius`; only a bull tool has one")));
  EXPECT_THAT(complaints("shape = \"flat\"\ndiameter = 6\nangle = 60"),
              ElementsAre(HasSubstr("tool 1 (flat) has `angle`; only a vee or drill has one")));
}

TEST(ToolShapes, a_corner_may_be_as_round_as_a_ball_and_no_rounder) {
  EXPECT_THAT(complaints("shape = \"bull\"\ndiameter = 6\ncorner_radius = 3"), IsEmpty());
  EXPECT_THAT(complaints("shape = \"bull\"\ndiameter = 6\ncorner_radius = 3.001"),
              ElementsAre("`corner_radius` of tool 1 (bull) is 3.001 mm, more than the tool's radius of 3 mm"));
}

TEST(ToolShapes, a_flat_tip_is_narrower_than_the_bit) {
  EXPECT_THAT(complaints("shape = \"vee\"\ndiameter = 6\nangle = 60\ntip_diameter = 6"),
              ElementsAre("`tip_diameter` of tool 1 (vee) is 6 mm, not less than the tool's diameter of 6 mm"));
}

TEST(ToolShapes, angles_stay_below_a_flat_end) {
  EXPECT_THAT(complaints("shape = \"vee\"\ndiameter = 6\nangle = 179.9"), IsEmpty());
  EXPECT_THAT(complaints("shape = \"vee\"\ndiameter = 6\nangle = 180"),
              ElementsAre(HasSubstr("`angle` of [[tool]] is 180 degrees")));
  EXPECT_THAT(complaints("shape = \"taper-ball\"\ndiameter = 6\ntip_radius = 0.5\ntaper = 90"),
              ElementsAre(HasSubstr("`taper` of [[tool]] is 90 degrees")));
}

TEST(ToolShapes, a_profile_starts_at_the_tip_and_goes_up) {
  EXPECT_THAT(complaints("shape = \"form\"\nprofile = [[0, 0], [5, 5], [3, 5], [3, 4]]"),
              ElementsAre(HasSubstr("goes down again")));
  EXPECT_THAT(complaints("shape = \"form\"\nprofile = [[0, 1], [5, 5]]"),
              ElementsAre(HasSubstr("does not start at height 0")));
  EXPECT_THAT(complaints("shape = \"form\"\nprofile = [[0, 0], [-5, 5]]"),
              testing::Contains(HasSubstr("negative radius")));
  EXPECT_THAT(complaints("shape = \"form\"\nprofile = [[3, 0]]"), ElementsAre(HasSubstr("fewer than two points")));
  EXPECT_THAT(complaints("shape = \"form\"\ndiameter = 12\nprofile = [[0, 0], [5, 5]]"),
              ElementsAre(HasSubstr("diameter 12 mm but its profile is 10 mm wide")));
}

}  // namespace job_file_tools_test
}  // namespace provecut
