// Random scenes brought to a micrometre: the hold-down is shifted along the shortest way until it just does,
// or just does not, touch.
#include <gtest/gtest.h>

#include <cmath>

#include "sim/clearance/corner_gap.h"
#include "sim/clearance/tolerance.h"
#include "tests/sim/clearance/random_scene.h"
#include "tests/sim/clearance/sampled.h"

namespace provecut {
namespace {

using namespace scene;

// Unit vector by which the hold-down comes nearer to the part the fastest.
Vec3 shortestWay(const clearance::PartNear& near, const ToolBody& body, const HoldDown& h) {
  const clearance::Obstacle o = clearance::obstacle(h, 0);
  clearance::CornerGap gap;
  gap.distance = INFINITY;
  for (const BodyPiece& p : body.pieces) {
    const clearance::CornerGap g = clearance::cornerGap(p, clearance::distance(o, flat(near.at)), o.top_mm - near.at.z);
    if (g.distance < gap.distance) gap = g;
  }
  clearance::SegmentPoint from{INFINITY, {}};
  for (const clearance::Edge& e : o.edges) {
    const clearance::SegmentPoint f = clearance::fromEdge(e, flat(near.at));
    if (f.distance < from.distance) from = f;
  }
  return {from.away.x * gap.by_d, from.away.y * gap.by_d, -gap.by_h};
}

double gapOf(ToolPart part, const Tool& tool, const HoldDown& h, SetupPoint tip) {
  const sampled::HalfProfile cutter = sampled::cutterProfile(tool);
  const double flutes = cutter.points.back().y, face = tool.stickout_mm;
  const ColletNut nut;
  const double nut_top = face + nut.length_mm;
  const auto body = [&](double diameter, double from, double to) {
    return sampled::distance(sampled::bodyProfile(diameter / 2, from, to), h, tip);
  };
  if (part == ToolPart::cutter) return sampled::distance(cutter, h, tip);
  if (part == ToolPart::shank) return body(tool.shank_diameter_mm, flutes, face);
  if (part == ToolPart::collet_nut) return body(nut.diameter_mm, face, nut_top);
  return body(nut.spindle_diameter_mm, nut_top, nut_top + 200);
}

TEST(HoldDownHit, a_micrometre_decides_in_random_scenes) {
  const unsigned seed = 90210;
  std::printf("seed %u\n", seed);
  std::mt19937 random(seed);
  int scenes = 0, hits = 0;
  for (int i = 0; scenes < 3000; ++i) {
    const RandomScene s = randomScene(random);
    const ToolBody body = bodyOf(s.tool);
    const clearance::Approach before = see(s.motion, body, s.hold_down);
    if (!before.near) continue;
    ++scenes;
    SCOPED_TRACE("scene " + std::to_string(i) + ": " + s.text);
    const Vec3 way = shortestWay(*before.near, body, s.hold_down);
    for (const double gap : {0.001, 1e-5, -1e-5, -0.001}) {
      const double shift = before.near->clearance_mm - gap;
      HoldDown h = moved(s.hold_down, flat(way) * shift);
      h.top_mm += way.z * shift;
      const clearance::Approach after = see(s.motion, body, h);
      if (gap > 0) {
        // Bodies that are c apart are at least c - s apart after a shift by s, in whatever direction: a miss
        // for sure.
        ASSERT_TRUE(after.touches.empty()) << gap;
        ASSERT_TRUE(after.near);
        EXPECT_NEAR(after.near->clearance_mm, gap, 5e-7);
      } else if (gapOf(before.near->part, s.tool, h, before.near->at) <= 0) {
        // The second opinion: at that place the part overlaps it. (Not so where an acute corner goes past a
        // sharp tip.)
        ++hits;
        EXPECT_NE(touchOf(after, before.near->part), nullptr) << gap;
      }
    }
  }
  EXPECT_GT(hits, 5500);
}

}  // namespace
}  // namespace provecut
