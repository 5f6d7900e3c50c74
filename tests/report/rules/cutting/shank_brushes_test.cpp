#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// A 6 mm flat cutter; material reaches this far above its flutes.
struct Brushes : Scene {
  explicit Brushes(double above_mm) {
    feed({50, 50, -22});
    BodyInStock b;
    b.move = lastIndex();
    b.part = ToolPart::shank;
    b.depth_mm = above_mm;
    programRun().bodies_in_stock.push_back(b);
  }
};

TEST(ShankBrushes, the_end_of_the_flutes_at_the_wall_is_a_note) {
  const auto findings = Brushes(0.2).findings(shank_brushes_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_EQ(findings[0].message, "the shank of 6 mm flat brushes the wall: material stands 0.2 mm above its flutes");
}

TEST(ShankBrushes, more_than_half_a_millimetre_or_a_wider_shank_is_another_rules) {
  EXPECT_EQ(Brushes(0.5).findings(shank_brushes_rule).size(), 1u);
  EXPECT_TRUE(Brushes(0.51).findings(shank_brushes_rule).empty());
  Brushes wide(0.1);
  wide.tool().shank_diameter_mm = 8;
  EXPECT_TRUE(wide.findings(shank_brushes_rule).empty());
}

}  // namespace
}  // namespace provecut
