#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

struct Small : Scene {
  Small() { job().machine.travel_mm = {400, 300, 80}; }
};

TEST(TravelExceeded, moves_further_apart_than_the_axis_is_long) {
  Small s;
  s.feed({-20, 50, -3});
  s.feed({390, 50, -3});
  const auto findings = s.findings(travel_exceeded_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::stop);
  EXPECT_EQ(findings[0].subject, "X axis");
  EXPECT_EQ(findings[0].place.line, 2u);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 10);
  EXPECT_EQ(findings[0].message, "the program needs 410 mm along X (maximum 400 mm)");
}

TEST(TravelExceeded, just_as_long_fits) {
  Small s;
  s.feed({-10, 50, -3});
  s.feed({390, 50, -3});
  EXPECT_TRUE(s.findings(travel_exceeded_rule).empty());
}

TEST(TravelExceeded, programs_of_one_setup_share_one_zero) {
  Small s;
  s.feed({-10, 50, -3});
  s.addProgram("20-cut.nc");
  s.feed({391, 50, -3});
  const auto findings = s.findings(travel_exceeded_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].program, "20-cut.nc");
  EXPECT_NEAR(*findings[0].amount, 1, 1e-9);
}

TEST(TravelExceeded, with_a_known_zero_each_end_of_the_axis_counts) {
  Small s;
  s.setup().zero_in_machine_mm = MachinePoint{15, 10, -60};
  s.feed({-15, 50, -3});
  s.feed({385, 50, -20});
  EXPECT_TRUE(s.findings(travel_exceeded_rule).empty());  // X 0 … 400, Z -80 … -40
  s.feed({-15.5, 50, 60.25});
  const auto findings = s.findings(travel_exceeded_rule);
  ASSERT_EQ(findings.size(), 2u);
  EXPECT_EQ(findings[0].subject, "X axis");
  EXPECT_DOUBLE_EQ(*findings[0].amount, 0.5);
  EXPECT_EQ(findings[0].help, "Split the program: it needs 400.5 mm along X (maximum 400 mm).");
  EXPECT_EQ(findings[1].subject, "Z axis");
  EXPECT_DOUBLE_EQ(*findings[1].amount, 0.25);
  EXPECT_EQ(findings[1].help, "Split the program: it needs 80.25 mm along Z (maximum 80 mm).");
}

TEST(TravelExceeded, the_zero_that_would_fit_is_named) {
  Small s;
  s.setup().zero_in_machine_mm = MachinePoint{10, 10, -60};
  s.feed({-15, 50, -3});
  s.feed({300, 50, -3});
  const auto findings = s.findings(travel_exceeded_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 5);
  EXPECT_EQ(findings[0].help, "Put the work zero between machine X 15 mm and 100 mm; it is at 10 mm.");
}

TEST(TravelExceeded, an_arc_reaches_further_than_its_ends) {
  Small s;
  s.setup().zero_in_machine_mm = MachinePoint{10, 10, -60};
  s.feed({0, 0, -3});
  s.arc({0, 30, -3}, {0, 15}, Plane::xy, true);  // bulges to X -15
  const auto findings = s.findings(travel_exceeded_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_NEAR(*findings[0].amount, 5, 1e-9);
}

// The reader takes the tool to stand at X 0, Y 0 and the top of the travel; no move may be judged by that.
TEST(TravelExceeded, where_the_tool_is_at_the_start_is_not_known) {
  Small s;
  Motion& sideways = s.rapid({600, 500, 80});
  sideways.start = {0, 0, 80};
  sideways.flags = motion_start_unknown;
  s.rapid({600, 500, 5}).flags = motion_start_unknown;  // from a height that nobody knows
  s.feed({900, 700, -5});
  EXPECT_TRUE(s.findings(travel_exceeded_rule).empty());
  s.feed({1001, 700, -5});
  EXPECT_EQ(s.findings(travel_exceeded_rule).size(), 1u);
}

TEST(TravelExceeded, a_height_that_is_not_known_is_not_judged) {
  Small s;
  s.rapid({0, 0, 200}).flags = motion_height_unknown | motion_machine_frame;
  s.rapid({50, 0, 200});
  s.rapid({50, 0, 5});
  s.feed({50, 0, -5});
  EXPECT_TRUE(s.findings(travel_exceeded_rule).empty());
}

}  // namespace
}  // namespace provecut
