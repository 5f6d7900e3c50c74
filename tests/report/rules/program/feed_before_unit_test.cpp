#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

std::vector<Finding> program(const char* text) {
  Scene s;
  s.text() = text;
  return s.findings(feed_before_unit_rule);
}

// The order of execution: NISTIR 6556 3.8, table 8.
TEST(FeedBeforeUnit, a_feed_on_the_line_that_goes_to_inches) {
  const auto findings = program("G21 G90\nG20 G1 F10 X3\n");
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].place, (ShownPlace{2, 8, 11}));
  EXPECT_DOUBLE_EQ(*findings[0].amount, 10);
  EXPECT_EQ(findings[0].message,
            "F10 is on the line that changes the unit; a machine that reads F first runs 25.4 times too slow");
}

TEST(FeedBeforeUnit, back_to_millimetres_is_a_change_too) {
  const auto findings = program("G20\nG21 G1 F1200 X3\n");
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_NE(findings[0].message.find("25.4 times too fast"), std::string::npos);
}

TEST(FeedBeforeUnit, on_its_own_line_or_without_a_change_it_is_fine) {
  EXPECT_TRUE(program("G20\nG1 F10 X3\n").empty());
  EXPECT_TRUE(program("G21\nG21 G1 F1200 X3\n").empty());
  EXPECT_TRUE(program("G21 G1 F1200 X3\n").empty());  // read in mm from the start
  EXPECT_TRUE(program("(G20 F10)\nG1 X2 F20\n").empty());
}

}  // namespace
}  // namespace provecut
