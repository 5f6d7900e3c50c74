// Worked examples of the trade, each with its plane geometry: distance(path, outline) less the tool's radius
// at the height of the head.
#include <gtest/gtest.h>

#include <cmath>

#include "sim/clearance/corner_gap.h"
#include "sim/clearance/line_approach.h"
#include "tests/sim/clearance/scene.h"

namespace provecut {
namespace {

using namespace scene;

TEST(Clearance, of_a_straight_cut_past_a_screw) {
  // (0,0) to (100,40) by a 6 mm cutter, screw at (60,12), 9 mm: the line runs 1200 / hypot(100, 40) from the
  // screw's centre; 4.5 and 3 less leave 3.641720290623 (geometry).
  const clearance::Approach a = see(line({0, 0, -3}, {100, 40, -3}), bodyOf(flatTool()), roundOne({60, 12}, 9, 4.5));
  ASSERT_TRUE(a.near);
  EXPECT_NEAR(a.near->clearance_mm, 3.641720290623, 1e-9);
  EXPECT_NEAR(a.near->clearance_mm, 1200 / std::hypot(100, 40) - 7.5, 1e-9);
  // Nearest at the foot of the perpendicular.
  const double k = (60 * 100 + 12 * 40) / (100.0 * 100 + 40 * 40);
  EXPECT_NEAR(a.near->at.x, 100 * k, 1e-6);
  EXPECT_NEAR(a.near->at.y, 40 * k, 1e-6);
}

TEST(Clearance, of_an_arc_past_a_screw) {
  // About (0,0) with radius 40, screw at (36,36), 9 mm, cutter 6: hypot(36, 36) - 40 - 4.5 - 3
  // = 3.411688245431.
  for (const MotionKind way : {MotionKind::arc_ccw, MotionKind::arc_cw}) {
    const bool ccw = way == MotionKind::arc_ccw;
    const WorkPoint from = ccw ? WorkPoint{40, 0, -3} : WorkPoint{0, 40, -3},
                    to = ccw ? WorkPoint{0, 40, -3} : WorkPoint{40, 0, -3};
    const clearance::Approach a =
        see(arc(way, Plane::xy, from, to, {0, 0}), bodyOf(flatTool()), roundOne({36, 36}, 9, 4.5));
    ASSERT_TRUE(a.near);
    EXPECT_NEAR(a.near->clearance_mm, 3.411688245431, 1e-9);
    EXPECT_NEAR(a.near->at.x, 40 / std::sqrt(2.0), 1e-6);
  }
}

TEST(Clearance, at_the_height_of_the_head_a_vee_is_wider_than_at_its_tip) {
  // 60° vee with its tip at -3, head top +4.5: radius 7.5 tan 30° = 4.330127018922; the axis 12 from the
  // screw's centre leaves 12 - 4.5 - 4.330127018922 = 3.169872981078 on the level of the head (geometry).
  const ToolBody vee = bodyOf(veeTool());
  const clearance::Obstacle head = clearance::obstacle(roundOne({12, 0}, 9, 4.5), 0);
  EXPECT_NEAR(clearance::radiusUpTo(vee.pieces.at(0), 7.5), 4.330127018922, 1e-12);
  EXPECT_NEAR(clearance::depthAt({0, 0, -3}, vee.pieces.at(0), head), -3.169872981078, 1e-12);
  // The flank leans towards the head, so the shortest way is at right angles to it: cos 30° of that.
  const clearance::Approach a = see(line({0, 0, -3}, {0, 0, -3}), vee, roundOne({12, 0}, 9, 4.5));
  ASSERT_TRUE(a.near);
  EXPECT_NEAR(a.near->clearance_mm, 3.169872981078 * std::cos(M_PI / 6), 1e-11);
}

TEST(Clearance, half_a_millimetre_up_a_ball_is_thinner_than_its_diameter) {
  // Radius 3 at 0.5 above the tip: sqrt(9 - 2.5²) = 1.658312395178 (geometry).
  EXPECT_NEAR(clearance::radiusUpTo(bodyOf(ballTool()).pieces.at(0), 0.5), 1.658312395178, 1e-12);
}

TEST(HoldDownHit, the_collet_nut_comes_down_to_a_head) {
  // Head top +4.5, stick-out 35: the nut's face is there when the tip is at -30.5 (geometry).
  Tool tool = flatTool();
  tool.stickout_mm = 35;
  const HoldDown screw = roundOne({10, 0}, 9, 4.5);
  EXPECT_TRUE(see(line({0, 0, 5}, {0, 0, -30.499}), bodyOf(tool), screw).touches.empty());
  const clearance::Approach down = see(line({0, 0, 5}, {0, 0, -30.501}), bodyOf(tool), screw);
  ASSERT_EQ(down.touches.size(), 1u);
  EXPECT_EQ(down.touches[0].part, ToolPart::collet_nut);
  EXPECT_NEAR(down.touches[0].entry.z, -30.5, 2e-6);
  // The nut's radius 15 less the 5.5 from the axis to the head.
  EXPECT_NEAR(down.touches[0].overlap_mm, 9.5, 1e-9);
}

TEST(Clearance, a_dogleg_rapid_takes_another_way_than_the_straight_one) {
  // (0,0) to (100,40) with equal axis rates turns at (40,40), up to 22.28344058125 mm off the straight line
  // (geometry).
  const Motion rapid = line({0, 0, -1}, {100, 40, -1}, MotionKind::rapid);
  const HoldDown screw = roundOne({40, 40}, 9, 4.5);
  Machine machine;
  machine.max_rate_mm_min = {5000, 5000, 3000};
  const clearance::Obstacle o = clearance::obstacle(screw, 0);
  const clearance::Approach straight = clearance::approach(pathOf(rapid, {}, machine), bodyOf(flatTool()), o, 1e9);
  ASSERT_TRUE(straight.near);
  EXPECT_NEAR(straight.near->clearance_mm, 22.28344058125 - 7.5, 1e-9);
  machine.rapids = Rapids::independent;
  const clearance::Approach dogleg = clearance::approach(pathOf(rapid, {}, machine), bodyOf(flatTool()), o, 1e9);
  ASSERT_EQ(dogleg.touches.size(), 1u);
  EXPECT_NEAR(dogleg.touches[0].overlap_mm, 7.5, 1e-9);  // the axis runs through the screw's centre: 3 + 4.5
  // It enters on the diagonal leg, 7.5 before the corner.
  EXPECT_NEAR(dogleg.touches[0].entry.x, 40 - 7.5 / std::sqrt(2.0), 2e-6);
}

}  // namespace
}  // namespace provecut
