#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

struct BothSides : Scene {
  BothSides() {
    feed({60, 40, -10});
    cuts(10, 10);
  }
  void opens(double area_mm2) {
    BrokenThrough b;
    b.move = lastIndex();
    b.at = {60, 40, -9};
    b.size_mm = {15, 30};
    b.area_mm2 = area_mm2;
    b.depth_mm = b.other_depth_mm = 10;
    programRun().broken_through.push_back(b);
  }
};

TEST(SidesBreakThrough, says_the_hole_both_depths_and_how_deep_leaves_a_floor) {
  BothSides s;
  EXPECT_TRUE(s.findings(sides_break_through_rule).empty());
  s.opens(450);
  const auto findings = s.findings(sides_break_through_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].place.line, 1u);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 450);
  EXPECT_EQ(findings[0].message,
            "the cuts from both sides meet and leave a 15 × 30 mm (450 mm²) hole: 10 mm deep here plus 10 mm from the "
            "other side, in 18 mm stock");
  EXPECT_EQ(findings[0].help,
            "Check the flip, then where both cuts lie. If both are right, cut no deeper than 6.5 mm here.");
}

TEST(SidesBreakThrough, several_holes_of_a_program_are_one_finding) {
  BothSides s;
  s.opens(450);
  s.opens(50);
  const auto findings = s.findings(sides_break_through_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 500);
  EXPECT_NE(findings[0].message.find("2 holes, the largest 15 × 30 mm (450 mm²)"), std::string::npos);
}

TEST(SidesBreakThrough, what_another_rule_tells_is_left_out) {
  BothSides s;
  s.opens(450);
  s.setup().programs[0].through = false;  // unwanted-through
  EXPECT_TRUE(s.findings(sides_break_through_rule).empty());
  s.setup().programs[0].through = true;
  HolePair pair;
  pair.move_b = s.lastIndex();
  s.run().hole_pairs.push_back(pair);  // holes-miss
  EXPECT_TRUE(s.findings(sides_break_through_rule).empty());
}

}  // namespace
}  // namespace provecut
