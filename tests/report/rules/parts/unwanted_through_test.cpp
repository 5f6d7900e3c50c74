#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(UnwantedThrough, a_hole_opened_by_a_program_that_must_not_is_told_with_its_size) {
  Scene s;
  s.feed({50, 50, -20});
  s.programRun().opened = OpenedHole{s.lastIndex(), {50, 50, -19.05}, 28.27};
  const auto findings = s.findings(unwanted_through_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::stop);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 28.27);
  EXPECT_EQ(findings[0].unit, "mm²");
}

TEST(UnwantedThrough, nothing_is_said_where_nothing_was_opened) {
  Scene s;
  s.feed({50, 50, -10});
  EXPECT_TRUE(s.findings(unwanted_through_rule).empty());
}

}  // namespace
}  // namespace provecut
