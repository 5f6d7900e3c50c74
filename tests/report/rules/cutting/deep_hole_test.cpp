#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// One stroke of a 3 mm drill.
struct Stroke : Scene {
  explicit Stroke(double depth_mm) {
    tool().name = "3 mm drill";
    tool().shape = ToolShape::drill;
    tool().diameter_mm = 3;
    tool().angle_deg = 118;
    rapid({20, 20, 3});
    feed({20, 20, -depth_mm});
    cuts(depth_mm, depth_mm);
  }
};

TEST(DeepHole, more_than_four_diameters_in_one_stroke) {
  EXPECT_TRUE(Stroke(12).findings(deep_hole_rule).empty());
  const auto findings = Stroke(16.8).findings(deep_hole_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_EQ(findings[0].message, "3 mm drill drills 16.8 mm deep in one stroke, 5.6 times its diameter (maximum 4)");
  EXPECT_EQ(findings[0].help, "Drill in pecks: G83 with Q 6 mm or less.");
}

TEST(DeepHole, pecks_and_other_cutters_are_let_be) {
  Stroke s(6);
  s.rapid({20, 20, 3});
  s.rapid({20, 20, -5.5});
  s.feed({20, 20, -13});
  s.cuts(13, 7);
  EXPECT_TRUE(s.findings(deep_hole_rule).empty());
  Stroke flat(16);
  flat.tool().shape = ToolShape::flat;
  EXPECT_TRUE(flat.findings(deep_hole_rule).empty());
}

}  // namespace
}  // namespace provecut
