// Thousands of random scenes against dense sampling, never further apart than the sampling's own bound.
#include <gtest/gtest.h>

#include <cmath>

#include "sim/clearance/tolerance.h"
#include "tests/sim/clearance/random_scene.h"
#include "tests/sim/clearance/sampled.h"

namespace provecut {
namespace {

using namespace scene;

struct PartOf {
  ToolPart part;
  sampled::HalfProfile profile;
};

std::vector<PartOf> partsOf(const Tool& tool) {
  const sampled::HalfProfile cutter = sampled::cutterProfile(tool);
  const double flutes = cutter.points.back().y, face = tool.stickout_mm;
  const ColletNut nut;
  std::vector<PartOf> parts{{ToolPart::cutter, cutter}};
  const auto add = [&](ToolPart part, double radius, double from, double to) {
    if (to > from) parts.push_back({part, sampled::bodyProfile(radius, from, to)});
  };
  add(ToolPart::shank, tool.shank_diameter_mm / 2, flutes, face);
  add(ToolPart::collet_nut, nut.diameter_mm / 2, face, face + nut.length_mm);
  add(ToolPart::spindle, nut.spindle_diameter_mm / 2, face + nut.length_mm, face + nut.length_mm + 200);
  return parts;
}

// Where a point lies on a move, as a share of its way, and what that may be off; infinite where it is not on it.
struct Meeting {
  double at = INFINITY, within = 0;
};

// Turn by turn: a level helix comes to the same place again.
Meeting meetingAt(const Motion& motion, SetupPoint point, double way) {
  for (int turn = 0; turn < motion.turns; ++turn) {
    const auto off = [&](double t) { return length(sampled::pointOn(motion, (turn + t) / motion.turns) - point); };
    const sampled::Range place = sampled::lowest(off, way / motion.turns, 1e-6, 20000);
    if (place.low <= 1e-5) return {(turn + place.at) / motion.turns, (place.high + 1e-5) / way};
  }
  return {};
}

TEST(Clearance, agrees_with_dense_sampling_in_thousands_of_random_scenes) {
  const unsigned seed = 77003;
  std::printf("seed %u\n", seed);
  std::mt19937 random(seed);
  int touches = 0, misses = 0, doubtful = 0;
  for (int i = 0; i < 4000; ++i) {
    const RandomScene s = randomScene(random);
    SCOPED_TRACE("scene " + std::to_string(i) + ": " + s.text);
    const clearance::Approach a = see(s.motion, bodyOf(s.tool), s.hold_down);
    // Both bodies are 1-Lipschitz in the tip: the distance changes by no more than the way.
    const double way = sampled::wayOf(s.motion);
    double nearest_low = INFINITY, nearest_high = INFINITY;
    bool any_touch = false, any_doubt = false;
    for (const PartOf& p : partsOf(s.tool)) {
      const auto gap = [&](double t) {
        return sampled::distance(p.profile, s.hold_down, sampled::pointOn(s.motion, t));
      };
      const sampled::Range range = sampled::lowest(gap, way, 1e-4, 1500);
      // The profile's chords lie inside the tool, so the true distance may be shorter by the sagitta.
      const double low = std::max(0.0, range.low) - p.profile.sagitta, high = range.high;
      const clearance::PartTouch* touch = touchOf(a, p.part);
      if (high <= 0) {
        ASSERT_NE(touch, nullptr) << "part " << static_cast<int>(p.part) << " overlaps at " << range.at;
        any_touch = true;
      } else if (low > clearance::contact_tolerance_mm) {
        ASSERT_EQ(touch, nullptr) << "part " << static_cast<int>(p.part) << " is " << low << " away or more";
      } else {
        any_doubt = true;
      }
      if (touch) {
        // The entry touches, and it lies on the way.
        const double there = sampled::distance(p.profile, s.hold_down, touch->entry);
        EXPECT_LE(there, p.profile.sagitta + 2e-6);
        const auto [met, met_within] = meetingAt(s.motion, touch->entry, way);
        ASSERT_LE(met, 1) << "the entry is not on the way";
        // Before it the part touches nowhere (from the sampled place of the entry, less what that may be
        // off).
        for (int k = 0; k < 200; ++k) {
          const double t = (met - met_within) * k / 200;
          if (t > 0) {
            ASSERT_GT(gap(t), 0) << "earlier than the entry, at " << t << " before " << met;
          }
        }
        // The depth changes by no more than the way between two samples, and the radius at the meeting height
        // by what it grows over that; the chords of the profile add their sagitta.
        const double step = way / 2000 / 2, slack = step + p.profile.sagitta;
        double met_depth = -INFINITY, max_depth = -INFINITY;
        for (int k = 0; k <= 2000; ++k) {
          const SetupPoint tip = sampled::pointOn(s.motion, k / 2000.0);
          const double h = s.hold_down.top_mm - tip.z, axis = sampled::signedDistance(s.hold_down, flat(tip));
          met_depth = std::max(met_depth, sampled::radiusUpTo(p.profile, h) - axis);
          max_depth = std::max(max_depth, sampled::radiusUpTo(p.profile, h + slack) + slack - axis);
        }
        EXPECT_GE(touch->overlap_mm, met_depth - 1e-6);
        EXPECT_LE(touch->overlap_mm, std::max(0.0, max_depth) + 1e-6);
      }
      nearest_low = std::min(nearest_low, low);
      nearest_high = std::min(nearest_high, high);
    }
    (any_doubt && !any_touch ? doubtful : a.touches.empty() ? misses : touches) += 1;
    if (a.touches.empty()) {
      ASSERT_TRUE(a.near);
      EXPECT_LE(a.near->clearance_mm, nearest_high + 1e-6);
      EXPECT_GE(a.near->clearance_mm, nearest_low - 1e-6);
    }
  }
  std::printf("%d touch, %d do not, %d too close for the sampling to tell\n", touches, misses, doubtful);
  EXPECT_GT(touches, 600);
  EXPECT_GT(misses, 800);
  EXPECT_LT(doubtful, 200);
}

}  // namespace
}  // namespace provecut
