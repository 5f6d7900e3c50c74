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

}  // namespace
}  // namespace provecut
