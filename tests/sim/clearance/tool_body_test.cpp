#include "sim/tool/tool_body.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "tests/sim/clearance/scene.h"

namespace provecut {
namespace {

using namespace scene;

Tool shaped(ToolShape shape, double diameter) {
  Tool t = flatTool(diameter);
  t.shape = shape;
  return t;
}

TEST(ToolBody, stacks_cutter_shank_nut_and_spindle) {
  const ToolBody body = bodyOf(flatTool(), true);
  ASSERT_EQ(body.pieces.size(), 5u);
  const auto expectPiece = [&](std::size_t i, ToolPart part, double z0, double z1, double radius) {
    EXPECT_EQ(body.pieces[i].part, part);
    EXPECT_DOUBLE_EQ(body.pieces[i].z0, z0);
    EXPECT_DOUBLE_EQ(body.pieces[i].z1, z1);
    EXPECT_DOUBLE_EQ(body.pieces[i].r0, radius);
    EXPECT_DOUBLE_EQ(body.pieces[i].r1, radius);
  };
  expectPiece(0, ToolPart::cutter, 0, 22, 3);
  expectPiece(1, ToolPart::shank, 22, 40, 4);
  expectPiece(2, ToolPart::collet_nut, 40, 60, 15);
  expectPiece(3, ToolPart::spindle, 60, 260, 32.5);
  expectPiece(4, ToolPart::attachment, 34, 80, 50);
  EXPECT_EQ(body.pieces[4].attachment, 0);
  EXPECT_DOUBLE_EQ(body.widest_radius_mm, 50);
  EXPECT_DOUBLE_EQ(body.cutter_length_mm, 22);
}

// A shoe of 80 mm whose axis is 30 and 40 mm beside the spindle's: its far rim is 90 mm from there (geometry), and the
// round body that stands for it covers all of it.
TEST(ToolBody, of_a_shoe_beside_the_spindle_reaches_its_far_rim_on_every_side) {
  SpindleAttachment shoe;
  shoe.diameter_mm = 80;
  shoe.top_mm = 40;
  shoe.offset_mm = {30, -40};
  const ToolBody body = toolBody(flatTool(), {}, {&shoe, 1});
  EXPECT_DOUBLE_EQ(body.pieces.back().r0, 90);
  EXPECT_DOUBLE_EQ(body.widest_radius_mm, 90);
}

TEST(ToolBody, a_ball_is_a_half_sphere_under_a_cylinder) {
  const ToolBody body = bodyOf(ballTool());
  for (const double z : {0.1, 1.0, 2.9}) EXPECT_NEAR(cutterRadiusAt(body, z), std::sqrt(9 - (3 - z) * (3 - z)), 1e-12);
  EXPECT_DOUBLE_EQ(cutterRadiusAt(body, 10), 3);
  EXPECT_DOUBLE_EQ(cutterRadiusAt(body, 22.1), 0);
  for (const double r : {0.0, 1.5, 3.0}) EXPECT_NEAR(lowerSurface(body, r), 3 - std::sqrt(9 - r * r), 1e-12);
  EXPECT_TRUE(std::isinf(lowerSurface(body, 3.001)));
}

TEST(ToolBody, a_bull_nose_is_flat_inside_its_corner_radius) {
  Tool t = shaped(ToolShape::bull, 10);
  t.corner_radius_mm = 1.5;
  const ToolBody body = bodyOf(t);
  EXPECT_DOUBLE_EQ(lowerSurface(body, 3.5), 0);
  EXPECT_NEAR(lowerSurface(body, 4.5), 1.5 - std::sqrt(1.5 * 1.5 - 1), 1e-12);
  EXPECT_DOUBLE_EQ(lowerSurface(body, 5), 1.5);
  EXPECT_NEAR(cutterRadiusAt(body, 0.5), 3.5 + std::sqrt(1.5 * 1.5 - 1), 1e-12);
}

TEST(ToolBody, a_vee_has_its_included_angle_and_its_flat_tip) {
  Tool t = veeTool(90, 12);
  t.tip_diameter_mm = 0.4;
  const ToolBody body = bodyOf(t);
  EXPECT_DOUBLE_EQ(lowerSurface(body, 0.2), 0);
  EXPECT_NEAR(lowerSurface(body, 3.2), 3, 1e-12);  // 45°
  EXPECT_NEAR(cutterRadiusAt(body, 2), 2.2, 1e-12);
  EXPECT_DOUBLE_EQ(cutterRadiusAt(body, 20), 6);
}

TEST(ToolBody, a_drill_has_a_point_of_118_degrees_where_none_is_given) {  // common practice, no source
  const ToolBody body = bodyOf(shaped(ToolShape::drill, 6));
  EXPECT_NEAR(lowerSurface(body, 3), 3 / std::tan(59 * M_PI / 180), 1e-12);
}

TEST(ToolBody, the_cone_of_a_taper_ball_touches_its_ball) {
  Tool t = shaped(ToolShape::taper_ball, 6);
  t.tip_radius_mm = 0.5;
  t.taper_deg = 5;
  const ToolBody body = bodyOf(t);
  // The cone's apex lies R / sin(taper) below the ball's centre (geometry).
  const double taper = 5 * M_PI / 180, apex = 0.5 - 0.5 / std::sin(taper);
  for (const double z : {0.5, 5.0, 20.0}) EXPECT_NEAR(cutterRadiusAt(body, z), (z - apex) * std::tan(taper), 1e-9);
  EXPECT_NEAR(cutterRadiusAt(body, 0.1), std::sqrt(0.25 - 0.16), 1e-12);
  EXPECT_NEAR(body.cutter_length_mm, apex + 3 / std::tan(taper), 1e-9);
}

TEST(ToolBody, a_dovetail_is_widest_at_its_foot) {
  Tool t = shaped(ToolShape::form, 0);
  t.profile_mm = {{0, 0}, {6.35, 0}, {4, 10}, {4, 12}};
  const ToolBody body = bodyOf(t);
  EXPECT_DOUBLE_EQ(body.cutter_radius_mm, 6.35);
  EXPECT_NEAR(cutterRadiusAt(body, 5), 5.175, 1e-12);
  EXPECT_DOUBLE_EQ(cutterRadiusAt(body, 20), 4);
  EXPECT_DOUBLE_EQ(lowerSurface(body, 6.35), 0);
}

TEST(ToolBody, with_an_unknown_stickout_nothing_stands_above_the_flutes) {
  Tool t = flatTool();
  t.stickout_mm = 0;
  const ToolBody body = bodyOf(t, true);
  ASSERT_EQ(body.pieces.size(), 1u);
  EXPECT_EQ(body.pieces[0].part, ToolPart::cutter);
}

}  // namespace
}  // namespace provecut
