#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(PartAttached, says_how_little_of_the_outline_is_open) {
  Scene s;
  s.feed({60, 40, -18.2});
  EXPECT_TRUE(s.findings(part_attached_rule).empty());
  StillAttached a;
  a.move = s.lastIndex();
  a.open_mm = 2.7;
  a.outline_mm = 40;
  a.web_thickness_mm = 3;
  a.bounds.add(WorkPoint{50, 30, -18});
  a.bounds.add(WorkPoint{62.7, 42.7, 0});
  s.programRun().still_attached.push_back(a);
  const auto findings = s.findings(part_attached_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 2.7);
  EXPECT_EQ(
      findings[0].message,
      "of the outline round 12.7 x 12.7 x 18.0 mm only 2.7 mm of 40.0 mm is cut through; the rest stays, 3.0 mm thick");
}

}  // namespace
}  // namespace provecut
