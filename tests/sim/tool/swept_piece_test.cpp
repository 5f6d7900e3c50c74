// What a piece takes from a vertical line, against a look at very many places along the way.
#include "sim/tool/swept_piece.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace provecut {
namespace {

// The half profile itself: the least and the maxOf height of the piece at distance d from its axis.
double under(const BodyPiece& p, double d) {
  if (d <= p.r0) return p.z0;
  if (p.arc_radius > 0)
    return p.centre_z - std::sqrt(std::max(0.0, p.arc_radius * p.arc_radius - (d - p.centre_r) * (d - p.centre_r)));
  return p.z0 + (p.z1 - p.z0) * (d - p.r0) / (p.r1 - p.r0);
}
double over(const BodyPiece& p, double d) {
  return d <= p.r1 ? p.z1 : p.z1 - (p.z1 - p.z0) * (d - p.r1) / (p.r0 - p.r1);
}

BodyPiece cone(double z0, double r0, double z1, double r1) {
  return {.z0 = z0, .r0 = r0, .z1 = z1, .r1 = r1};
}

TEST(SweptPiece, on_a_slope_takes_what_a_look_at_every_place_along_the_way_finds) {
  const BodyPiece pieces[] = {
      cone(0, 3, 5, 3),
      cone(0, 0, 5, 3),
      cone(1, 1, 4, 3),
      cone(0, 4, 6, 2.5),
      {.z0 = 0, .r0 = 0, .z1 = 3, .r1 = 3, .arc_radius = 3, .centre_r = 0, .centre_z = 3},
      {.z0 = 0, .r0 = 2, .z1 = 1.5, .r1 = 3.5, .arc_radius = 1.5, .centre_r = 2, .centre_z = 1.5}};
  std::mt19937 random(8);
  std::uniform_real_distribution<double> x(-6, 16), y(-4, 4), tip(-5, 5);
  int lines = 0;
  for (int k = 0; k < 600; ++k) {
    const BodyPiece& piece = pieces[k % 6];
    Sweep s{};
    s.bx = 10;
    s.a_tip = static_cast<float>(tip(random));
    s.b_tip = static_cast<float>(tip(random));
    const SweepLine sweep(s);
    const SetupPoint2 at{x(random), y(random)};
    double low = 1e9, high = -1e9;
    constexpr int steps = 20000;
    for (int i = 0; i <= steps; ++i) {
      const double way = 10.0 * i / steps, d = std::hypot(at.x - way, at.y);
      if (d > std::max(piece.r0, piece.r1)) continue;
      const double z = sweep.a_tip + (sweep.b_tip - sweep.a_tip) * way / 10;
      low = std::min(low, z + under(piece, d));
      high = std::max(high, z + over(piece, d));
    }
    const auto range = takenFrom(sweep, seen(sweep, at), piece);
    if (low > high) continue;
    ASSERT_TRUE(range);
    ++lines;
    // The look misses an extreme by no more than its step allows: 0.5 um of way, steepest near the rim of a sphere.
    EXPECT_LE(range->low, low + 1e-9) << k;
    EXPECT_NEAR(range->low, low, 0.03) << k;
    EXPECT_GE(range->high, high - 1e-9) << k;
    EXPECT_NEAR(range->high, high, 0.03) << k;
  }
  EXPECT_GT(lines, 200);
}

}  // namespace
}  // namespace provecut
