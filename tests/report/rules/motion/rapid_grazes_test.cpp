#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// A rapid that cuts `width` by `depth` out of material that reaches up to `material_z`.
struct Graze : Scene {
  Graze(double depth, double width, double area, double z = -3, double material_z = -2.9) {
    feed({50, 50, z});
    cuts(1, 1);
    rapid({90, 50, z});
    cuts(material_z - z, depth);
    programRun().cuts.back().section_mm2 = static_cast<float>(area);
    programRun().cuts.back().max_radial_depth_mm = static_cast<float>(width);
  }
  bool isNote() { return !findings(rapid_grazes_rule).empty(); }
  bool isStop() { return !findings(rapid_in_stock_rule).empty(); }
};

TEST(RapidGrazes, the_ridges_between_two_rows_are_a_note) {
  Graze s(0.1, 1, 0.05);
  EXPECT_FALSE(s.isStop());
  const auto findings = s.findings(rapid_grazes_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_EQ(findings[0].place.line, 2u);
  EXPECT_NEAR(*findings[0].amount, 0.1, 1e-6);
  EXPECT_EQ(findings[0].message, "rapid brushes the stock, 0.1 mm deep");
}

TEST(RapidGrazes, a_quarter_of_a_millimetre_or_half_a_square_millimetre_is_a_stop) {
  EXPECT_TRUE(Graze(0.24, 2, 0.49).isNote());
  Graze deep(0.2501, 1, 0.1), large(0.1, 5, 0.5001);
  EXPECT_TRUE(deep.isStop());
  EXPECT_FALSE(deep.isNote());
  EXPECT_TRUE(large.isStop());
  EXPECT_FALSE(large.isNote());
}

// A rapid at engraving depth that should have been a retract.
TEST(RapidGrazes, an_untouched_face_is_no_graze_however_shallow_the_scratch) {
  Graze scratch(0.05, 6, 0.3, -0.05, 0);
  EXPECT_TRUE(scratch.isStop());
  EXPECT_FALSE(scratch.isNote());
  EXPECT_TRUE(Graze(0.05, 2, 0.1, -0.05, 0).isNote()) << "along the edge of a cut, less than half of the bit's width";
}

TEST(RapidGrazes, a_rapid_straight_down_is_no_graze_however_shallow) {
  Scene s;
  s.rapid({50, 50, 5});
  s.rapid({50, 50, -0.1});
  s.cuts(0.1, 0.1, 0.01);
  EXPECT_EQ(s.findings(rapid_in_stock_rule).size(), 1u);
  EXPECT_TRUE(s.findings(rapid_grazes_rule).empty());
}

TEST(RapidGrazes, a_retract_that_brushes_the_wall_is_one) {
  Scene s;
  s.feed({50, 50, -3});
  s.cuts(3, 3);
  s.rapid({50.1, 50, 5});
  s.cuts(0.1, 0.1, 0.01);
  EXPECT_TRUE(s.findings(rapid_in_stock_rule).empty());
  EXPECT_EQ(s.findings(rapid_grazes_rule).size(), 1u);
}

TEST(RapidGrazes, grazes_are_told_beside_a_rapid_that_cuts) {
  Graze s(0.1, 1, 0.05);
  s.rapid({90, 50, -9});
  s.cuts(6, 6);
  EXPECT_TRUE(s.isStop());
  EXPECT_TRUE(s.isNote());
  EXPECT_EQ(s.findings(rapid_in_stock_rule)[0].moves, 1u);
}

}  // namespace
}  // namespace provecut
