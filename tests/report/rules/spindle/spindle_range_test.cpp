#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

struct SpindleScene : Scene {
  SpindleScene() {
    job().machine.spindle_rpm_min = 8000;
    job().machine.spindle_rpm_max = 24000;
    job().machine.spindle_rpm_given = true;
  }
};

TEST(SpindleRange, too_slow_for_the_machine) {
  SpindleScene s;
  s.rpm = 3000;
  s.feed({50, 50, -3});
  const auto findings = s.findings(spindle_range_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 3000);
  EXPECT_EQ(findings[0].unit, "rpm");
  EXPECT_EQ(findings[0].message, "6 mm flat runs at 3,000 rpm (minimum 8,000 rpm)");
}

TEST(SpindleRange, a_range_that_nobody_gave_is_a_note) {
  SpindleScene s;
  s.job().machine.spindle_rpm_given = false;
  s.rpm = 3000;
  s.feed({50, 50, -3});
  const auto findings = s.findings(spindle_range_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_EQ(findings[0].help,
            "Set `spindle_rpm` under [machine] to what your spindle does; this range is assumed. If it is right: Set "
            "S8000.");
}

TEST(SpindleRange, both_ends_belong_to_the_range) {
  SpindleScene s;
  for (const double rpm : {8000.0, 24000.0}) {
    s.rpm = rpm;
    s.feed({50, 50, -3});
  }
  EXPECT_TRUE(s.findings(spindle_range_rule).empty());
  s.rpm = 24001;
  s.feed({90, 50, -3});
  ASSERT_EQ(s.findings(spindle_range_rule).size(), 1u);
  EXPECT_EQ(s.findings(spindle_range_rule)[0].help, "Set S24000.");
}

TEST(SpindleRange, an_s_that_nobody_can_dial_is_a_note_where_the_speed_is_dialled) {
  SpindleScene s;
  s.job().machine.speed_by_hand = true;
  s.rpm = 1000;
  s.feed({50, 50, -3});
  const auto findings = s.findings(spindle_range_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_EQ(findings[0].message, "6 mm flat runs at 1,000 rpm (minimum 8,000 rpm)");
  EXPECT_EQ(
      findings[0].help,
      "Put the speed that you dial in the job file: `rpm` of each [[tool]]. Chip loads are worked out from S until "
      "then.");
}

TEST(SpindleRange, no_speed_is_advised_that_the_tool_must_not_run_at) {
  SpindleScene s;
  s.rpm = 30000;
  s.feed({50, 50, -3});
  s.tool().max_rpm = 20000;
  EXPECT_EQ(s.findings(spindle_range_rule)[0].help, "Set S20000.");
  s.tool().max_rpm = 6000;
  EXPECT_EQ(s.findings(spindle_range_rule)[0].help, "Not possible with this bit (maximum 6,000 rpm).");
}

TEST(SpindleRange, one_limit_for_several_tools_is_told_once) {
  SpindleScene s;
  Tool drill = s.tool();
  drill.number = 2;
  drill.name = "3 mm drill";
  s.job().tools.push_back(drill);
  s.rpm = 5000;
  s.feed({50, 50, -3});
  s.rpm = 3000;
  s.feed({90, 50, -3}).tool = 2;
  const auto findings = s.findings(spindle_range_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message,
            "2 tools run below the spindle's minimum of 8,000 rpm: 6 mm flat (5,000 rpm) and 3 mm drill (3,000 rpm)");
  EXPECT_EQ(findings[0].help, "Set S8000 for each. Or set the job's `spindle_rpm` to what this machine does.");
  EXPECT_DOUBLE_EQ(*findings[0].amount, 3000);
  EXPECT_EQ(findings[0].moves, 2u);
  s.rpm = 30000;  // the other limit is another cause
  s.feed({50, 50, -3});
  EXPECT_EQ(s.findings(spindle_range_rule).size(), 2u);
}

TEST(SpindleRange, rapids_and_a_spindle_that_is_off_do_not_matter) {
  SpindleScene s;
  s.rpm = 3000;
  s.rapid({50, 50, 5});
  s.spindle = Spindle::off;
  s.feed({50, 50, 1});
  EXPECT_TRUE(s.findings(spindle_range_rule).empty());
}

TEST(SpindleRange, without_a_job_file_the_machine_is_not_known) {
  SpindleScene s;
  s.job().file.clear();
  s.rpm = 3000;
  s.feed({50, 50, -3});
  EXPECT_TRUE(s.findings(spindle_range_rule).empty());
}

}  // namespace
}  // namespace provecut
