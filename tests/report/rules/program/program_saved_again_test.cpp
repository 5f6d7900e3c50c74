#include <gtest/gtest.h>

#include "report/facts/locked.h"
#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(ProgramSavedAgain, other_comments_with_the_same_moves_are_a_note_and_other_moves_are_not) {
  Scene s;
  s.text() = "(saved on Monday)\nG0 X10\n";
  s.feed({10, 10, -3});
  s.lock() = lockOf(s.facts());
  s.lock()->date = "2026-11-30";
  EXPECT_TRUE(s.findings(program_saved_again_rule).empty());
  s.text() = "(saved on Friday)\nN10 G0 X10.0\n";
  const auto findings = s.findings(program_saved_again_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_EQ(findings[0].message, "saved again since it was locked on 2026-11-30; it makes the same moves");
  EXPECT_TRUE(s.findings(program_changed_rule).empty());
  s.last().rpm = 12000;
  EXPECT_TRUE(s.findings(program_saved_again_rule).empty());
  EXPECT_EQ(s.findings(program_changed_rule).size(), 1u);
}

// The moves as they are read are the same each time; the machine may do something else.
TEST(ProgramSavedAgain, a_code_that_a_machine_may_do_otherwise_makes_it_another_program) {
  Scene s;
  const std::string locked = "G54 G90\nM3 S12000\nG0 Z10\nG1 Z-3 F300\nM5\nM2\n";
  s.text() = locked;
  s.feed({10, 10, -3});
  s.lock() = lockOf(s.facts());
  s.lock()->date = "2026-11-30";
  for (const auto& [from, to] : {std::pair{"G54 G90", "G54 G90 G64 P5"},
                                 {"G54", "G54 G61"},
                                 {"G0 Z10", "G43 H1 G0 Z10"},
                                 {"G1 Z-3", "/G1 Z-3"},
                                 {"G0 Z10", "M64 P1\nG0 Z10"},
                                 {"G0 Z10", "G10 L2 P1 Z-5\nG0 Z10"},
                                 {"G0 Z10", "G0 Z10 A90"},
                                 {"M5\n", ""},
                                 {"M5\n", "M9\n"}}) {
    std::string text = locked;
    s.text() = text.replace(text.find(from), std::string_view(from).size(), to);
    EXPECT_EQ(s.findings(program_changed_rule).size(), 1u) << to;
    EXPECT_TRUE(s.findings(program_saved_again_rule).empty()) << to;
  }
  s.text() = "%\n(again)\nN1 G90 G54\nN2 S12000 M03\nG00 Z10.\n\nG01 Z-3.0 F300\nM05\nM02\n%\n";
  EXPECT_TRUE(s.findings(program_changed_rule).empty());
}

}  // namespace
}  // namespace provecut
