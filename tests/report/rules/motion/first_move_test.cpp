#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// As the reader has it: the tool is taken to stand at X 0, Y 0 and the top of the travel until the program says
// otherwise.
struct Unknown : Scene {
  Motion& first(WorkPoint from, WorkPoint to) {
    Motion& m = rapid(to);
    m.start = from;
    m.flags = motion_start_unknown;
    return m;
  }
};

TEST(FirstMove, sideways_before_any_height) {
  Unknown s;
  s.first({0, 0, 120}, {20, 20, 120});
  s.first({20, 20, 120}, {20, 20, 40});
  const auto findings = s.findings(first_move_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].place.line, 1u);
  EXPECT_FALSE(findings[0].amount.has_value());
  EXPECT_EQ(findings[0].help, "Put G0 Z3 or higher on its own line before this one.");
}

TEST(FirstMove, a_machine_that_changes_its_bits_itself_leaves_the_tool_at_the_top) {
  Unknown s;
  s.event(EventKind::tool_change, 1);
  s.first({0, 0, 120}, {20, 20, 120});
  s.first({20, 20, 120}, {20, 20, 40});
  EXPECT_EQ(s.findings(first_move_rule).size(), 1u);  // by hand: who knows where it stands
  s.job().machine.tool_change_s = 12;
  EXPECT_TRUE(s.findings(first_move_rule).empty());
  s.program().events.clear();
  EXPECT_EQ(s.findings(first_move_rule).size(), 1u);
}

TEST(FirstMove, to_x0_y0_is_sideways_too) {
  Unknown s;
  s.first({0, 0, 120}, {0, 0, 120});
  EXPECT_EQ(s.findings(first_move_rule).size(), 1u);
}

TEST(FirstMove, down_aslant_from_nowhere_is_told_where_it_ends) {
  Unknown s;
  s.first({0, 0, 120}, {20, 20, 1});
  const auto findings = s.findings(first_move_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message, "the first move slants down from wherever the tool happens to be, to Z 1 mm");
  EXPECT_EQ(findings[0].help, "Put G0 Z3 or higher on its own line before this one, and go down only after it.");
  s.last().end.z = 3;
  EXPECT_TRUE(s.findings(first_move_rule).empty());
}

TEST(FirstMove, down_to_x0_y0_is_aslant_too) {
  Unknown s;
  s.text() = "G28 (to zero) X0 Y0 Z0\n";
  s.first({0, 0, 120}, {0, 0, 0});
  EXPECT_EQ(s.findings(first_move_rule).size(), 1u);
  s.text() = "G0 Z0 (X0 Y0)\n";
  EXPECT_TRUE(s.findings(first_move_rule).empty());
}

// A rapid up would lift all that follows.
TEST(FirstMove, a_program_in_increments_is_started_high_enough) {
  Unknown s;
  s.first({0, 0, 120}, {20, 20, 120});
  s.program().modal.ever_incremental = true;  // later on
  EXPECT_EQ(s.findings(first_move_rule).at(0).help, "Put G0 Z3 or higher on its own line before this one.");
  s.program().modal.first_incremental = true;
  EXPECT_EQ(s.findings(first_move_rule).at(0).help,
            "Before you start, jog to the place the program counts from, at Z 3 mm or higher. (A rapid up before this "
            "line would lift all that follows: it is in increments, G91.)");
}

TEST(FirstMove, no_number_to_type_in_where_the_unit_is_not_set) {
  Unknown s;
  s.program().modal.units_used = true;
  s.first({0, 0, 120}, {20, 20, 120});
  EXPECT_EQ(s.findings(first_move_rule).at(0).help, "Put a rapid to Z 3 mm or higher on its own line before this one.");
}

TEST(FirstMove, up_first_and_then_sideways_is_right) {
  Unknown s;
  s.addHoldDown(clamp("clamp N", {100, 95}, {60, 20}, 15));
  s.first({0, 0, 120}, {0, 0, 18});
  s.first({0, 0, 18}, {20, 20, 18});
  s.rapid({20, 20, 5});
  EXPECT_TRUE(s.findings(first_move_rule).empty());
}

TEST(FirstMove, a_height_below_a_clamp_clears_it_from_nowhere) {
  Unknown s;
  s.addHoldDown(clamp("clamp N", {100, 95}, {60, 20}, 15));
  s.first({0, 0, 120}, {0, 0, 17.9});
  s.first({0, 0, 17.9}, {20, 20, 17.9});
  const auto findings = s.findings(first_move_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].subject, "clamp N");
  EXPECT_EQ(findings[0].place.line, 2u);
  EXPECT_NEAR(*findings[0].amount, 2.9, 1e-12);
  EXPECT_EQ(findings[0].message,
            "the first move is sideways from wherever the tool happens to be, 2.9 mm above the top of clamp N (minimum "
            "3 mm)");
}

TEST(FirstMove, a_machine_move_to_the_top_sets_a_height) {
  Unknown s;
  s.first({0, 0, 120}, {0, 0, 120}).flags = motion_start_unknown | motion_machine_frame | motion_height_unknown;
  s.first({0, 0, 120}, {20, 20, 120});
  EXPECT_TRUE(s.findings(first_move_rule).empty());
}

TEST(FirstMove, the_height_to_type_in_is_in_the_programs_own_unit) {
  Scene s;
  s.program().modal.ever_inch = true;
  s.program().modal.ever_mm = false;
  s.rapid({20, 20, 20}).flags = motion_start_unknown;
  s.rapid({20, 20, 40});
  // 3 mm is 0.11811 in: rounded up, so that it is high enough.
  EXPECT_EQ(s.findings(first_move_rule).at(0).help, "Put G0 Z0.1182 (3 mm) or higher on its own line before this one.");
  s.job().inches = true;
  EXPECT_EQ(s.findings(first_move_rule).at(0).help, "Put G0 Z0.119 or higher on its own line before this one.");
  s.program().modal.ever_mm = true;
  s.job().inches = false;
  EXPECT_EQ(s.findings(first_move_rule).at(0).help, "Put a rapid to Z 3 mm or higher on its own line before this one.");
}

}  // namespace
}  // namespace provecut
