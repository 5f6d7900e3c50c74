#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(EndState, high_and_with_the_spindle_off_is_a_good_end) {
  Scene s;
  s.rapid({0, 0, 20});
  s.event(EventKind::spindle_stop);
  s.event(EventKind::end);
  EXPECT_TRUE(s.findings(end_state_rule).empty());
}

TEST(EndState, the_end_word_stops_the_spindle) {  // NISTIR 6556 3.6.1
  Scene s;
  s.rapid({0, 0, 20});
  s.event(EventKind::end);
  EXPECT_TRUE(s.findings(end_state_rule).empty());
}

TEST(EndState, a_spindle_left_turning) {
  Scene s;
  s.rapid({0, 0, 20});
  const auto findings = s.findings(end_state_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_FALSE(findings[0].amount.has_value());
  EXPECT_EQ(findings[0].message, "the program ends with the spindle on");
  EXPECT_EQ(findings[0].help, "End it with M5 and M30.");
}

TEST(EndState, a_spindle_that_is_switched_by_hand_is_not_the_programs_to_stop) {
  Scene s;
  s.job().machine.spindle_by_hand = true;
  s.rapid({0, 0, 20});
  EXPECT_TRUE(s.findings(end_state_rule).empty());
  s.last().end.z = -1;
  const auto findings = s.findings(end_state_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message, "the program ends with the tip 1 mm below the top of the stock");
}

TEST(EndState, a_tip_left_low) {
  Scene s;
  s.addHoldDown(clamp("clamp N", {100, 95}, {60, 20}, 15));
  s.rapid({0, 0, 15});
  s.event(EventKind::end);
  EXPECT_TRUE(s.findings(end_state_rule).empty());
  s.last().end.z = 14;
  const auto findings = s.findings(end_state_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 1);
  EXPECT_EQ(findings[0].message, "the program ends with the tip 1 mm below the top of clamp N");
  EXPECT_EQ(findings[0].help, "End it with G0 Z18 or higher.");
}

}  // namespace
}  // namespace provecut
