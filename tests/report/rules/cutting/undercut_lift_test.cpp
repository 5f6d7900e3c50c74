#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

struct Keyhole : Scene {
  Keyhole() {
    tool().name = "keyhole bit";
    tool().shape = ToolShape::form;
    tool().profile_mm = {{4.75, 0}, {4.75, 3.5}, {2.5, 3.5}, {2.5, 20}};
  }
  void breaks(double mm) {
    cuts(1, 1);
    programRun().cuts[lastIndex()].broken_mm = static_cast<float>(mm);
  }
};

TEST(UndercutLift, lifted_at_the_far_end_of_its_slot) {
  Keyhole s;
  s.feed({50, 50, -10});
  s.feed({65, 50, -10});
  s.rapid({65, 50, 5});
  s.breaks(6.5);
  const auto findings = s.findings(undercut_lift_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::stop);
  EXPECT_EQ(findings[0].subject, "keyhole bit");
  EXPECT_DOUBLE_EQ(*findings[0].amount, 6.5);
  EXPECT_EQ(findings[0].place.line, 3u);
  EXPECT_EQ(findings[0].message, "keyhole bit is lifted through 6.5 mm of material above its wide part");
}

TEST(UndercutLift, lowered_into_its_groove_through_the_lips) {
  Keyhole s;
  s.rapid({65, 50, 5});
  s.feed({65, 50, -10});
  s.breaks(6.5);
  const auto findings = s.findings(undercut_lift_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message, "keyhole bit is lowered through 6.5 mm of material above a hollow");
}

TEST(UndercutLift, lifted_in_its_entry_hole) {
  Keyhole s;
  s.feed({50, 50, -10});
  s.cuts(10, 10);
  s.rapid({50, 50, 5});
  s.breaks(0);
  EXPECT_TRUE(s.findings(undercut_lift_rule).empty());
}

TEST(UndercutLift, two_hundredths_of_a_millimetre_are_the_limit) {
  Keyhole s;
  s.feed({50, 50, -10});
  s.feed({65, 50, -9.98});
  s.breaks(0.0199);
  EXPECT_TRUE(s.findings(undercut_lift_rule).empty());
  s.breaks(0.0201);
  EXPECT_EQ(s.findings(undercut_lift_rule).size(), 1u);
}

TEST(UndercutLift, one_lift_is_told_once_and_a_retract_that_cuts_with_nothing_over_the_bit_still_is) {
  Keyhole lifted;
  lifted.feed({65, 50, -10});
  lifted.rapid({65, 50, 5});
  lifted.breaks(6.5);
  EXPECT_EQ(lifted.findings(undercut_lift_rule).size(), 1u);
  EXPECT_TRUE(lifted.findings(rapid_in_stock_rule).empty());
  Keyhole cuts;
  cuts.feed({65, 50, -10});
  cuts.rapid({65, 50, 5});
  cuts.breaks(0);
  EXPECT_TRUE(cuts.findings(undercut_lift_rule).empty());
  EXPECT_EQ(cuts.findings(rapid_in_stock_rule).size(), 1u);
}

}  // namespace
}  // namespace provecut
