// The reach at a height against the worked examples, and stretches against the exact clearance.
#include "sim/placing/keep_out.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/sim/placing/scene.h"

namespace provecut {
namespace {

using namespace place_scene;

ToolBody bodyOf(int tool) {
  const Job job = plainJob();
  return toolBody(job.tools[static_cast<std::size_t>(tool - 1)], job.collet_nut, job.spindle_attachments);
}

TEST(KeepOut, a_cylinder_reaches_its_radius_and_the_clearance) {
  EXPECT_NEAR(placing::reachAt(bodyOf(1), 5, 3), 3 + 3, 1e-12);
  EXPECT_NEAR(placing::reachAt(bodyOf(1), 5, 1e-3), 3.001, 1e-12);
}

TEST(KeepOut, above_the_head_the_rim_alone_counts) {
  // The tip 2 above the top: sqrt(3² - 2²) sideways of the rim; 3 above it, nothing.
  EXPECT_NEAR(placing::reachAt(bodyOf(1), -2, 3), 3 + std::sqrt(5.0), 1e-9);
  EXPECT_LT(placing::reachAt(bodyOf(1), -3, 3), 0);
}

TEST(KeepOut, a_vee_reaches_farther_the_deeper_it_goes) {
  // 60° included, 7.5 above the tip: 7.5 tan 30° = 4.330127018922 (plane geometry), and the clearance square to the
  // flank: 3 / cos 30°. The nearest point of the flank then lies 1.5 higher than the top, above it: only heights up to
  // the top count.
  const double flank = 7.5 * std::tan(M_PI / 6);
  EXPECT_NEAR(flank, 4.330127018922, 1e-12);
  const double gap = 3;
  // The flank rises away from the corner of the head, so the region h >= z0, r <= r(h) is bounded by the flank's own
  // line; the corner lies under it and its nearest point on the flank is square to it.
  EXPECT_NEAR(placing::reachAt(bodyOf(3), 7.5, gap), flank + gap / std::cos(M_PI / 6), 1e-9);
}

TEST(KeepOut, the_nut_reaches_out_once_it_comes_down_to_the_clearance_above_the_head) {
  // Nut 30 from 32 above the tip; 29 below it is 3 above the top.
  EXPECT_NEAR(placing::reachAt(bodyOf(1), 28.9, 3), 4 + 3, 1e-9);                      // shank 8, the nut not yet
  EXPECT_NEAR(placing::reachAt(bodyOf(1), 29.0, 3), 4 + 3, 1e-9);                      // shank 8
  EXPECT_NEAR(placing::reachAt(bodyOf(1), 30.0, 3), 15 + std::sqrt(9.0 - 4.0), 1e-9);  // 2 below the nut's face
}

}  // namespace
}  // namespace provecut
