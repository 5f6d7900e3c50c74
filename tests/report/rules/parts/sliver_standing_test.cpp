#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// Where a sliver begins (1 mm, 3 mm high) is tested on the cut itself: tests/sim/pieces/sliver_test.cpp.
TEST(SliverStanding, says_how_thick_and_how_high_the_thinnest_is) {
  Scene s;
  s.feed({60, 40, -12});
  EXPECT_TRUE(s.findings(sliver_standing_rule).empty());
  s.programRun().slivers.push_back({s.lastIndex(), {60, 43.3, 0}, 0.6, 12});
  auto findings = s.findings(sliver_standing_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 0.6);
  EXPECT_EQ(findings[0].message, "leaves a sliver standing, 0.6 mm thick and 12 mm high");
  s.programRun().slivers.push_back({s.lastIndex(), {60, 53, 0}, 0.4, 9});
  findings = s.findings(sliver_standing_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].moves, 2u);
  EXPECT_EQ(findings[0].message, "leaves 2 slivers standing, the thinnest 0.4 mm thick and 9 mm high");
  EXPECT_EQ(findings[0].help, "Overlap the passes beside them, or leave a wall of 2 mm or more.");
}

}  // namespace
}  // namespace provecut
