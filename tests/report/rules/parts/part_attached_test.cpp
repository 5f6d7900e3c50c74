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
      "only 2.7 mm of the 40 mm outline of this 12.7 × 12.7 × 18 mm offcut is cut through; the rest is 3 mm thick");
}

}  // namespace
}  // namespace provecut
