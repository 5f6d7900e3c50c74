#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(DwellInCut, a_wait_at_the_end_of_a_pass) {
  Scene s;
  s.feed({80, 50, -3});
  s.cuts(3, 3);
  s.dwell(5);
  const auto findings = s.findings(dwell_in_cut_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 5);
  EXPECT_EQ(findings[0].unit, "s");
}

TEST(DwellInCut, above_the_stock_or_beside_it_or_with_the_spindle_off_it_may_wait) {
  Scene s;
  s.feed({80, 50, -3});
  s.cuts(3, 3);
  s.rapid({80, 50, 5});
  s.dwell(5);
  s.feed({210, 50, -3});
  s.cuts(3, 3);
  s.dwell(5);
  s.feed({80, 50, -3});
  s.cuts(3, 3);
  s.spindle = Spindle::off;
  s.dwell(5);
  EXPECT_TRUE(s.findings(dwell_in_cut_rule).empty());
}

TEST(DwellInCut, the_dwell_of_a_drilling_cycle_is_meant) {
  Scene s;
  s.feed({80, 50, -3});
  s.cuts(3, 3);
  s.dwell(0.5).flags = motion_in_cycle;
  EXPECT_TRUE(s.findings(dwell_in_cut_rule).empty());
}

}  // namespace
}  // namespace provecut
