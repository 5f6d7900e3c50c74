#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(ToolOverspeed, faster_than_the_tool_may_turn) {
  Scene s;
  s.tool().max_rpm = 12000;
  s.rpm = 18000;
  s.feed({50, 50, -3});
  const auto findings = s.findings(tool_overspeed_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::stop);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 18000);
  EXPECT_EQ(findings[0].message, "6 mm flat runs at 18,000 rpm (maximum 12,000 rpm)");
}

TEST(ToolOverspeed, a_tool_slower_than_the_slowest_speed_of_the_machine_cannot_be_used) {
  Scene s;
  s.job().machine.spindle_rpm_min = 8000;
  s.rpm = 18000;
  s.feed({50, 50, -3});
  s.tool().max_rpm = 8000;
  EXPECT_EQ(s.findings(tool_overspeed_rule)[0].help, "Before this tool cuts, set S8000.");
  s.tool().max_rpm = 7999;
  EXPECT_EQ(s.findings(tool_overspeed_rule)[0].help, "Do not use this bit here: the spindle's minimum is 8,000 rpm.");
}

TEST(ToolOverspeed, the_marked_speed_itself_is_allowed_and_a_tool_without_one_has_no_limit) {
  Scene s;
  s.rpm = 12000;
  s.feed({50, 50, -3});
  EXPECT_TRUE(s.findings(tool_overspeed_rule).empty());
  s.tool().max_rpm = 12000;
  EXPECT_TRUE(s.findings(tool_overspeed_rule).empty());
  s.tool().max_rpm = 11999;
  EXPECT_EQ(s.findings(tool_overspeed_rule).size(), 1u);
}

}  // namespace
}  // namespace provecut
