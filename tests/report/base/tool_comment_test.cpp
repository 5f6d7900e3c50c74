// Comments as exported programs carry them.
#include "report/base/tool_comment.h"

#include <gtest/gtest.h>

namespace provecut {
namespace {

TEST(ToolComment, with_named_numbers) {
  const ToolComment flat = readToolComment("T4 D=10. CR=0. - ZMIN=-22.99 - FLAT END MILL", false);
  EXPECT_EQ(flat.number, 4);
  EXPECT_EQ(flat.diameter_mm, 10);
  EXPECT_EQ(flat.shape, ToolShape::flat);
  const ToolComment ball = readToolComment("T5  D=19.05 CR=9.525 - ZMIN=-106. - BALL END MILL", false);
  EXPECT_EQ(ball.shape, ToolShape::ball);
  EXPECT_EQ(ball.corner_radius_mm, 9.525);
  const ToolComment bull = readToolComment("T3 D=0.5 CR=0.0625 - flat end mill", true);
  EXPECT_EQ(bull.shape, ToolShape::bull);
  EXPECT_DOUBLE_EQ(*bull.diameter_mm, 12.7);
  const ToolComment drill = readToolComment("T11 D=8. CR=0. TAPER=118DEG - ZMIN=-21. - DRILL", false);
  EXPECT_EQ(drill.shape, ToolShape::drill);
  EXPECT_EQ(drill.angle_deg, 118);
  EXPECT_EQ(readToolComment("T1 D=100. CR=0. - ZMIN=-0.5 - FACE MILL", false).shape, ToolShape::surfacing);
}

TEST(ToolComment, with_a_unit_of_its_own) {
  EXPECT_EQ(readToolComment("T1: 6mm end mill", true).diameter_mm, 6);
  const ToolComment drill = readToolComment("T07 = 5/16\" DRILL      03-0356, 135 Point Angle", false);
  EXPECT_EQ(drill.number, 7);
  EXPECT_DOUBLE_EQ(*drill.diameter_mm, 7.9375);
  EXPECT_EQ(drill.angle_deg, 135);
  EXPECT_DOUBLE_EQ(*readToolComment("T06 = .257\" F DRILL    03-0263", false).diameter_mm, 6.5278);
  EXPECT_EQ(readToolComment("MSG, CHANGE TOOL BIT: to drill size 2.49900 mm", true).diameter_mm, 2.499);
}

TEST(ToolComment, in_words) {
  EXPECT_EQ(readToolComment(" Tool diameter = 3.175 ", false).diameter_mm, 3.175);
  EXPECT_EQ(readToolComment("Compensated Tool Path. Diameter: 3.18", false).diameter_mm, 3.18);
  EXPECT_EQ(readToolComment("MSG, Change to tool dia=0.8000", false).diameter_mm, 0.8);
}

TEST(ToolComment, that_speaks_of_other_things_too) {
  const ToolComment flat = readToolComment("dowel holes 8.1 mm for turning over, flat 6 mm, tool 1", false);
  EXPECT_EQ(flat.number, 1);
  EXPECT_EQ(flat.diameter_mm, 6);
  const ToolComment vee = readToolComment("vee 60 degrees, tool 3", false);
  EXPECT_EQ(vee.number, 3);
  EXPECT_EQ(vee.shape, ToolShape::vee);
  EXPECT_EQ(vee.angle_deg, 60);
  EXPECT_FALSE(vee.diameter_mm);
  EXPECT_FALSE(readToolComment("T11 D=25 CR=0 TAPER=45deg - chamfer mill", false).angle_deg);
  EXPECT_FALSE(readToolComment("tool change at 0.0000  0.0000  1.5000", false).number);
}

TEST(ToolComment, that_says_nothing_of_size_gives_none) {
  for (const char* text : {"Attach the probe tool", "DRILL HOLES", "HOLD 'C' and HOLD 'D'. CIRCULAR POCKET MILLING",
                           "T", "T1.5", "", "D=", "dia=x", "1/0\"", "5/"}) {
    EXPECT_FALSE(readToolComment(text, false).diameter_mm) << text;
    EXPECT_FALSE(readToolComment(text, false).number) << text;
  }
}

}  // namespace
}  // namespace provecut
