#include "sim/path/path.h"

#include <gtest/gtest.h>

#include <cmath>

#include "sim/path/motion_extent.h"
#include "tests/sim/clearance/scene.h"

namespace provecut {
namespace {

using namespace scene;

void expectPoint(SetupPoint got, SetupPoint wanted) {
  EXPECT_NEAR(got.x, wanted.x, 1e-12);
  EXPECT_NEAR(got.y, wanted.y, 1e-12);
  EXPECT_NEAR(got.z, wanted.z, 1e-12);
}

// RS274/NGC 3.5.3: G2 clockwise, G3 counter-clockwise, seen from the positive end of the axis at right angles
// to the plane; in G18 (ZX) the half way of a quarter from +Z to +X is thus counter-clockwise.
TEST(Path, an_arc_runs_the_way_its_word_says_in_every_plane) {
  const double half = 10 / std::sqrt(2.0);
  const Path xy = pathOf(arc(MotionKind::arc_ccw, Plane::xy, {10, 0, 0}, {0, 10, 4}, {0, 0}), {}, Machine{});
  expectPoint(pointAt(xy.pieces.at(0), 0.5), {half, half, 2});
  const Path zx = pathOf(arc(MotionKind::arc_ccw, Plane::zx, {0, 0, 10}, {10, 4, 0}, {0, 0}), {}, Machine{});
  expectPoint(pointAt(zx.pieces.at(0), 0.5), {half, 2, half});
  const Path yz = pathOf(arc(MotionKind::arc_ccw, Plane::yz, {0, 10, 0}, {4, 0, 10}, {0, 0}), {}, Machine{});
  expectPoint(pointAt(yz.pieces.at(0), 0.5), {2, half, half});
  const Path cw = pathOf(arc(MotionKind::arc_cw, Plane::xy, {10, 0, 0}, {0, 10, 4}, {0, 0}), {}, Machine{});
  expectPoint(pointAt(cw.pieces.at(0), 0.5), {-half, -half, 2});
}

// Three turns about (50, 60.02) from radius 60 to 60.06: it is lowest on its last pass. There the radius is 60 + 0.06 ·
// 2.75 / 3 = 60.055 where it points down, so that Z is 60.02 - 60.055; the spiral's own lowest point, a little later,
// is (0.06 / 6 pi)² / (2 · 60.055) = 8.4e-8 lower.
TEST(Path, an_arc_of_several_turns_is_lowest_on_the_turn_with_the_largest_radius) {
  const Motion wider = arc(MotionKind::arc_cw, Plane::zx, {110, 0, 60.02}, {110.06, 0, 60.02}, {60.02, 50}, 3);
  const double growth = 0.06 / (6 * M_PI);
  EXPECT_NEAR(lowestZ(wider), -0.035 - growth * growth / (2 * 60.055), 1e-10);
  // The other way round the first pass is the lowest: 60.06 - 0.06 · 0.75 / 3.
  const Motion narrower = arc(MotionKind::arc_cw, Plane::zx, {110.06, 0, 60.02}, {110, 0, 60.02}, {60.02, 50}, 3);
  EXPECT_NEAR(lowestZ(narrower), -0.025 - growth * growth / (2 * 60.045), 1e-10);
  // The whole box, against a fine walk along the path.
  const Path path = pathOf(wider, {}, Machine{});
  WorkBox walked;
  for (int k = 0; k <= 2'000'000; ++k) {
    const SetupPoint p = pointAt(path.pieces.at(0), k / 2e6);
    walked.add(WorkPoint{p.x, p.y, p.z});
  }
  const WorkBox box = motionExtent(wider);
  EXPECT_NEAR(box.low.x, walked.low.x, 1e-8);
  EXPECT_NEAR(box.high.x, walked.high.x, 1e-8);
  EXPECT_NEAR(box.low.z, walked.low.z, 1e-8);
  EXPECT_NEAR(box.high.z, walked.high.z, 1e-8);
}

TEST(Path, an_arc_that_ends_where_it_starts_is_a_full_circle_and_turns_add_to_it) {
  const Path one = pathOf(arc(MotionKind::arc_cw, Plane::xy, {10, 0, 0}, {10, 0, 0}, {0, 0}), {}, Machine{});
  expectPoint(pointAt(one.pieces.at(0), 0.5), {-10, 0, 0});
  const Path three = pathOf(arc(MotionKind::arc_cw, Plane::xy, {10, 0, 6}, {0, 10, 0}, {0, 0}, 3), {}, Machine{});
  EXPECT_NEAR(three.pieces.at(0).sweep, -2.75 * 2 * M_PI, 1e-12);
}

TEST(Path, a_chord_leaves_its_arc_by_no_more_than_the_bound) {
  // Exact for a circle at the middle of the chord: r (1 - cos(w / 2)) <= r w² / 8.
  const Path p = pathOf(arc(MotionKind::arc_ccw, Plane::zx, {0, 0, 10}, {10, 3, 0}, {0, 0}), {}, Machine{});
  const PathPiece& quarter = p.pieces.at(0);
  for (const double share : {1.0, 0.3, 0.01}) {
    const double w = share * M_PI / 2;
    double worst = 0;
    const SetupPoint a = quarter.start, b = pointAt(quarter, share);
    for (int i = 0; i <= 1000; ++i) {
      worst = std::max(worst, length(pointAt(quarter, share * i / 1000) - (a + (b - a) * (i / 1000.0))));
    }
    EXPECT_LE(worst, chordError(quarter, w));
    EXPECT_GE(worst, 0.9 * chordError(quarter, w));
  }
}

TEST(Path, where_the_radii_of_an_arc_differ_a_little_both_ends_are_met) {
  const Path p = pathOf(arc(MotionKind::arc_ccw, Plane::xy, {10, 0, 0}, {0, 10.004, 0}, {0, 0}), {}, Machine{});
  expectPoint(pointAt(p.pieces.at(0), 1), {0, 10.004, 0});
  EXPECT_NEAR(length(flat(pointAt(p.pieces.at(0), 0.5)) - SetupPoint2{}), 10.002, 1e-12);
  EXPECT_NEAR(length(flat(pointAt(p.pieces.at(0), 1 - 1e-9)) - SetupPoint2{}), 10.004, 1e-9);
}

TEST(Path, independent_axes_turn_where_each_is_done) {
  Machine machine;
  machine.rapids = Rapids::independent;
  machine.max_rate_mm_min = {6000, 3000, 1500};
  // X needs 1 s for 100, Y 0.5 s for 25, Z 2 s for 50: at 0.5 s X has made 50 and Z 12.5, at 1 s Z 25.
  const Path p = pathOf(line({0, 0, 50}, {100, 25, 0}, MotionKind::rapid), {1, 2, 3}, machine);
  ASSERT_EQ(p.count, 3);
  expectPoint(p.pieces.at(0).start, {1, 2, 53});
  expectPoint(p.pieces.at(0).end, {51, 27, 40.5});
  expectPoint(p.pieces[1].end, {101, 27, 28});
  expectPoint(p.pieces[2].end, {101, 27, 3});
  EXPECT_EQ(pathOf(line({0, 0, 0}, {100, 25, 0}), {}, machine).count, 1);  // a feed move is straight
}

}  // namespace
}  // namespace provecut
