#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(StartState, every_word_relied_upon_is_named) {
  Scene s;
  s.rapid({50, 50, 5});
  s.program().modal.units_used = s.program().modal.distance_used = s.program().modal.plane_used = true;
  s.program().modal.first_use = {1, 1, 3};
  s.program().modal.ever_other_plane = true;
  const auto findings = s.findings(start_state_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].place.line, 1u);
  EXPECT_EQ(findings[0].message,
            "moves before it sets the unit (read as mm), absolute distances (G90) and the XY plane (G17)");
  EXPECT_EQ(findings[0].help, "Put G21 (or G20 if it is in inches), G90 and G17 before this line.");
}

TEST(StartState, what_is_set_in_time_is_fine) {
  Scene s;
  s.rapid({50, 50, 5});
  EXPECT_TRUE(s.findings(start_state_rule).empty());
}

TEST(StartState, the_plane_counts_where_a_program_of_the_job_leaves_another_one) {
  Scene s;
  s.rapid({50, 50, 5});
  s.program().modal.plane_used = true;
  EXPECT_TRUE(s.findings(start_state_rule).empty());
  s.addProgram("carved-edge.nc");
  s.program(1).modal.ever_other_plane = true;
  ASSERT_EQ(s.findings(start_state_rule).size(), 1u);
  EXPECT_EQ(s.findings(start_state_rule)[0].message, "moves before it sets the XY plane (G17)");
  EXPECT_EQ(s.findings(start_state_rule)[0].level, Level::look);
}

TEST(StartState, the_plane_counts_where_there_are_arcs) {
  Scene s;
  s.rapid({50, 50, 5});
  s.arc({60, 50, 5}, {55, 50}, Plane::xy, true);
  s.program().modal.plane_used = true;
  ASSERT_EQ(s.findings(start_state_rule).size(), 1u);
  EXPECT_EQ(s.findings(start_state_rule)[0].level, Level::note);
  s.program().modal.distance_used = true;
  EXPECT_EQ(s.findings(start_state_rule)[0].level, Level::look);
}

TEST(StartState, a_single_missing_word_is_enough) {
  Scene s;
  s.program().modal.distance_used = true;
  ASSERT_EQ(s.findings(start_state_rule).size(), 1u);
  EXPECT_EQ(s.findings(start_state_rule)[0].help, "Put G90 before this line.");
}

}  // namespace
}  // namespace provecut
