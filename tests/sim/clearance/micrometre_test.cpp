// A hit of one micrometre is found, a miss of one micrometre is not one: every kind of move, part and
// hold-down.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "sim/clearance/line_approach.h"
#include "tests/sim/clearance/scene.h"

namespace provecut {
namespace {

using namespace scene;

constexpr double micrometre = 1e-3;
constexpr double top = 5;
// Computed clearances and overlaps are held to this: far finer than the micrometre, and above the arcs' own
// 1e-7.
constexpr double agree = 5e-7;

// Hold-downs whose point furthest to the left is the origin.
struct Shape {
  std::string name;
  HoldDown hold_down;
};
std::vector<Shape> shapes() {
  const double half_diagonal = std::hypot(20.0, 12.0) / 2, turn = std::atan2(12.0, 20.0) * 180 / M_PI;
  return {
      {"round", roundOne({4.5, 0}, 9, top)},
      {"boxed", box({10, 1}, {20, 12}, 0, top)},
      {"rotated, a corner ahead", box({half_diagonal, 0}, {20, 12}, turn, top)},
      {"rotated by 90", box({6, -2}, {20, 12}, 90, top)},
      {"outlined, convex", outlined({{0, 0}, {15, -9}, {22, 3}, {11, 10}}, top)},
      {"outlined, clockwise", outlined({{11, 10}, {22, 3}, {15, -9}, {0, 0}}, top)},
      {"outlined, L", outlined({{0, 0}, {3, -20}, {30, -20}, {30, 15}, {25, 15}, {25, -10}, {5, -10}}, top)},
  };
}

// Parts, each with its radius and the height above the tip at which the top of the hold-down meets it.
struct Part {
  std::string name;
  ToolPart part;
  double radius, height;
  bool shoe;
};
std::vector<Part> parts() {
  return {
      {"cutter", ToolPart::cutter, 3, 8, false},           {"shank", ToolPart::shank, 4, 30, false},
      {"collet nut", ToolPart::collet_nut, 15, 50, false}, {"spindle", ToolPart::spindle, 32.5, 70, false},
      {"shoe", ToolPart::attachment, 50, 45, true},
  };
}

// Moves that come no nearer to the origin than the point (-reach, 0), and there have the tip at height z.
struct Move {
  std::string name;
  Motion motion;
};
std::vector<Move> movesPast(double reach, double z) {
  const double x = -reach, r = 40;
  const WorkPoint down{x, 0, z};
  return {
      {"line past it", line({x, -70, z}, {x, 55, z})},
      {"rapid past it", line({x, 31, z}, {x, -64, z}, MotionKind::rapid)},
      {"line towards it", line({x - 80, 0, z}, down)},
      {"slanting line towards it", line({x - 80, 33, z}, down)},
      {"line away from it", line(down, {x - 30, -12, z})},
      {"plunge", line({x, 0, z + 90}, down, MotionKind::rapid)},
      {"retract", line(down, {x, 0, z + 90})},
      {"ramp down to it", line({x - 44, 10, z + 21}, down)},
      {"ramp past it", line({x, -20, z + 1}, {x, 20, z - 1})},
      {"arc, bulging towards it", arc(MotionKind::arc_ccw, Plane::xy, {x - r, -r, z}, {x - r, r, z}, {x - r, 0})},
      {"arc the other way", arc(MotionKind::arc_cw, Plane::xy, {x - r, r, z}, {x - r, -r, z}, {x - r, 0})},
      {"full circle", arc(MotionKind::arc_cw, Plane::xy, {x - 2 * r, 0, z}, {x - 2 * r, 0, z}, {x - r, 0})},
      {"helix down", arc(MotionKind::arc_ccw, Plane::xy, {x - r, -r, z + 1}, {x - r, r, z - 1}, {x - r, 0})},
      {"helix of three turns",
       arc(MotionKind::arc_cw, Plane::xy, {x - 2 * r, 0, z + 2}, {x - 2 * r, 0, z - 1}, {x - r, 0}, 3)},
      {"arc in G18, bulging towards it",
       arc(MotionKind::arc_cw, Plane::zx, {x - 6, 0, z - 6}, {x - 6, 0, z + 6}, {z, x - 6})},
      {"helix in G18", arc(MotionKind::arc_cw, Plane::zx, {x - 2, -3, z - 2}, {x - 2, 3, z + 2}, {z, x - 2})},
      {"arc in G19 past it", arc(MotionKind::arc_ccw, Plane::yz, {x, -2, z}, {x, 2, z}, {0, z})},
  };
}

double gapWith(SetupPoint tip, const ToolBody& body, ToolPart part, const HoldDown& hold_down) {
  double gap = 1e9;
  for (const BodyPiece& p : body.pieces) {
    if (p.part == part) gap = std::min(gap, clearance::gapAt(tip, p, clearance::obstacle(hold_down, 0)));
  }
  return gap;
}

TEST(HoldDownHit, a_micrometre_decides_for_every_move_part_and_shape_at_any_place) {
  const std::array<Vec3, 3> places{{{0, 0, 0}, {1987.654321, -2000, 0}, {-0.1, 1234.5678, 0}}};
  int scenes = 0;
  for (const Part& part : parts()) {
    const ToolBody body = bodyOf(flatTool(), part.shoe);
    for (const Shape& shape : shapes()) {
      for (const double gap : {-micrometre, micrometre}) {
        // The G19 arc swings to both sides of the origin, the others stay on the same side of it.
        for (const Move& move : movesPast(part.radius + gap, top - part.height)) {
          for (const Vec3 place : places) {
            SCOPED_TRACE(part.name + ", " + shape.name + ", " + move.name + ", gap " + std::to_string(gap) + " at x " +
                         std::to_string(place.x));
            const clearance::Approach a = see(moved(move.motion, place), body, moved(shape.hold_down, flat(place)));
            const clearance::PartTouch* touch = touchOf(a, part.part);
            ++scenes;
            if (gap > 0) {
              ASSERT_TRUE(a.touches.empty());
              ASSERT_TRUE(a.near);
              EXPECT_EQ(a.near->part, part.part);
              EXPECT_NEAR(a.near->clearance_mm, gap, agree);
            } else {
              ASSERT_EQ(a.touches.size(), 1u);
              ASSERT_NE(touch, nullptr);
              EXPECT_NEAR(touch->overlap_mm, -gap, agree);
              // Where it first touches, it just touches.
              EXPECT_LE(gapWith(touch->entry, body, part.part, moved(shape.hold_down, flat(place))), 1.2e-6);
            }
          }
        }
      }
    }
  }
  EXPECT_EQ(scenes, 5 * 7 * 2 * 17 * 3);
}

// Over it: the lowest point of the move is `gap` above (or below) its top, the axis over the middle of it.
std::vector<Move> movesOver(WorkPoint2 c, double z) {
  const double r = 25;
  return {
      {"line over it", line({c.x - 30, c.y, z}, {c.x + 40, c.y, z})},
      {"plunge onto it", line({c.x, c.y, z + 30}, {c.x, c.y, z}, MotionKind::rapid)},
      {"ramp down onto it", line({c.x - 60, c.y - 20, z + 9}, {c.x, c.y, z})},
      {"arc over it",
       arc(MotionKind::arc_ccw, Plane::xy, {c.x - r, c.y - r, z}, {c.x - r, c.y + r, z}, {c.x - r, c.y})},
      {"helix down onto it",
       arc(MotionKind::arc_cw, Plane::xy, {c.x - r, c.y + r, z + 3}, {c.x, c.y, z}, {c.x - r, c.y}, 2)},
      {"dip in G18", arc(MotionKind::arc_ccw, Plane::zx, {c.x + 9, c.y, z + 9}, {c.x - 9, c.y, z + 9}, {z + 9, c.x})},
      {"dip in G19", arc(MotionKind::arc_ccw, Plane::yz, {c.x, c.y - 9, z + 9}, {c.x, c.y + 9, z + 9}, {c.y, z + 9})},
      {"helical dip in G18",
       arc(MotionKind::arc_ccw, Plane::zx, {c.x + 9, c.y - 3, z + 9}, {c.x - 9, c.y + 3, z + 9}, {z + 9, c.x})},
  };
}

TEST(HoldDownHit, a_micrometre_decides_over_the_top_of_every_shape) {
  for (const Tool& tool : {flatTool(), ballTool(), veeTool()}) {
    const ToolBody body = bodyOf(tool);
    for (const Shape& shape : shapes()) {
      // A point of every shape here, some of its outline within reach of the tool.
      const WorkPoint2 middle = shape.name == "outlined, L" ? WorkPoint2{28, 2} : WorkPoint2{5, 0};
      for (const double gap : {-micrometre, micrometre}) {
        for (const Move& move : movesOver(middle, top + gap)) {
          SCOPED_TRACE(shape.name + ", " + move.name + ", gap " + std::to_string(gap));
          const clearance::Approach a = see(move.motion, body, shape.hold_down);
          if (gap > 0) {
            ASSERT_TRUE(a.touches.empty());
            ASSERT_TRUE(a.near);
            EXPECT_NEAR(a.near->clearance_mm, gap, agree);
          } else {
            ASSERT_EQ(a.touches.size(), 1u);
            EXPECT_EQ(a.touches[0].part, ToolPart::cutter);
            // At the first contact it has just come down to the top.
            EXPECT_LE(a.touches[0].entry.z, top + 1.2e-6);
            EXPECT_GE(a.touches[0].entry.z, top - micrometre - 1e-9);
          }
        }
      }
    }
  }
}

TEST(HoldDownHit, the_flank_of_a_vee_and_the_round_of_a_ball_meet_the_edge_of_a_head) {
  // Plane geometry: a 60° vee's flank stands 30° off the axis, so the edge at (d, h) is d cos 30° - h sin 30°
  // off it. A ball's centre is at (0, 3): the edge is hypot(d, h - 3) - 3 off it.
  const double c = std::cos(M_PI / 6), s = std::sin(M_PI / 6), h = 6, low = 1;
  for (const Shape& shape : shapes()) {
    for (const double gap : {-micrometre, micrometre}) {
      SCOPED_TRACE(shape.name + ", gap " + std::to_string(gap));
      const double vee_d = (gap + h * s) / c, ball_d = std::sqrt((3 + gap) * (3 + gap) - (low - 3) * (low - 3));
      const struct {
        Tool tool;
        double d, h;
      } cases[] = {{veeTool(), vee_d, h}, {ballTool(), ball_d, low}};
      for (const auto& k : cases) {
        const ToolBody body = bodyOf(k.tool);
        const std::vector<Move> moves = movesPast(k.d, top - k.h);
        for (std::size_t i = 0; i < 12; ++i) {  // those that do not go lower than z
          if (moves[i].name == "ramp past it") continue;
          SCOPED_TRACE(moves[i].name);
          const clearance::Approach a = see(moves[i].motion, body, shape.hold_down);
          ASSERT_EQ(a.touches.size(), gap < 0 ? 1u : 0u);
          if (gap > 0) {
            ASSERT_TRUE(a.near);
            EXPECT_NEAR(a.near->clearance_mm, gap, agree);
          } else {
            const double radius = k.tool.shape == ToolShape::vee ? h * std::tan(M_PI / 6) : std::sqrt(9 - 4.0);
            EXPECT_NEAR(a.touches[0].overlap_mm, radius - k.d, agree);
          }
        }
      }
    }
  }
}

TEST(HoldDownHit, within_the_contact_tolerance_a_touch_is_a_hit) {
  const ToolBody body = bodyOf(flatTool());
  const HoldDown screw = roundOne({4.5, 0}, 9, top);
  for (const double x : {-3.0, -3.0 - 0.9e-6}) {
    EXPECT_EQ(see(line({x, -9, 0}, {x, 9, 0}), body, screw).touches.size(), 1u);
  }
  EXPECT_TRUE(see(line({-3.0 - 1.1e-6, -9, 0}, {-3.0 - 1.1e-6, 9, 0}), body, screw).touches.empty());
  // From above the tool that stops within the tolerance has its whole radius over the head: 3 + 4.5.
  const clearance::Approach above = see(line({4.5, 0, 9}, {4.5, 0, top + 0.9e-6}), body, screw);
  ASSERT_EQ(above.touches.size(), 1u);
  EXPECT_NEAR(above.touches[0].overlap_mm, 7.5, 1e-12);
}

// A ball of 25.4 that stops 0.9 nm above the top touches it with its lowest point alone: nothing of its radius counts.
TEST(HoldDownHit, within_the_contact_tolerance_a_point_is_a_point) {
  const ToolBody body = bodyOf(ballTool(25.4));
  const HoldDown block = box({0, 0}, {20, 10}, 0, 10);
  const WorkPoint over{7, 0, 10 + 0.9e-6};
  for (const Motion& m : {line({7, 0, 30}, over), line({-2, 0, over.z}, over),
                          arc(MotionKind::arc_ccw, Plane::xy, {7, 6, over.z}, over, {7, 3})}) {
    const clearance::Approach a = see(m, body, block);
    ASSERT_EQ(a.touches.size(), 1u);
    const bool passes_the_middle = m.start.x < 0;
    // The arc is deepest where it is as far from the block's right side as from its back: 3 + 3s = 2 - 3c.
    const double deepest = passes_the_middle ? 5 : isArc(m) ? 3 + (std::sqrt(17.0) - 1) / 2 : 3;
    EXPECT_NEAR(a.touches[0].overlap_mm, deepest, 1e-7);
  }
}

TEST(HoldDownHit, a_tool_in_the_notch_of_an_outline_touches_nothing_until_it_leaves_it) {
  // A slot 10 wide and open to the right, between two arms; a 6 mm cutter has 2 mm on either side.
  const HoldDown fork = outlined({{0, -15}, {30, -15}, {30, -5}, {8, -5}, {8, 5}, {30, 5}, {30, 15}, {0, 15}}, top);
  const ToolBody body = bodyOf(flatTool());
  const clearance::Approach inside = see(line({40, 0, -3}, {13, 0, -3}), body, fork);
  EXPECT_TRUE(inside.touches.empty());
  ASSERT_TRUE(inside.near);
  EXPECT_NEAR(inside.near->clearance_mm, 2, 1e-9);
  const clearance::Approach bottom = see(line({40, 0, -3}, {11 - micrometre, 0, -3}), body, fork);
  ASSERT_EQ(bottom.touches.size(), 1u);
  EXPECT_NEAR(bottom.touches[0].overlap_mm, micrometre, agree);
  EXPECT_TRUE(see(line({40, 0, -3}, {11 + micrometre, 0, -3}), body, fork).touches.empty());
  const clearance::Approach across = see(line({20, 0, -3}, {20, 12, -3}), body, fork);
  ASSERT_EQ(across.touches.size(), 1u);
  EXPECT_NEAR(across.touches[0].entry.y, 2, 2e-6);
  // In the middle of an arm the axis is 5 deep, and at (20, 10) nothing of the outline is nearer.
  EXPECT_NEAR(across.touches[0].overlap_mm, 3 + 5, 1e-6);
}

}  // namespace
}  // namespace provecut
