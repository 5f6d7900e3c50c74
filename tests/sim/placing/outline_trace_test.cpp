// Outlines traced through triangles against shapes whose area is known.
#include "sim/placing/outline_trace.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>

#include "parser/job/outline_check.h"

namespace provecut {
namespace {

// The outline of f >= 0 on a grid of n × n cells of side 1, each cut into four triangles.
std::vector<std::vector<SetupPoint2>> outlineOf(int n, const std::function<double(SetupPoint2)>& f) {
  std::vector<placing::Segment> segments;
  const auto point = [&](double x, double y) { return placing::LevelPoint{{x, y}, f({x, y})}; };
  for (int y = 0; y < n; ++y) {
    for (int x = 0; x < n; ++x) {
      const std::array<placing::LevelPoint, 4> c{point(x, y), point(x + 1, y), point(x + 1, y + 1), point(x, y + 1)};
      const std::array<bool, 4> border{y == 0, x + 1 == n, y + 1 == n, x == 0};
      for (std::size_t k = 0; k < 4; ++k) {
        placing::traceTriangle({c[k], c[(k + 1) % 4], point(x + 0.5, y + 0.5)}, segments);
        if (border[k]) placing::traceEdge(c[k], c[(k + 1) % 4], segments);
      }
    }
  }
  return placing::ringsOf(segments);
}

double area(const std::vector<std::vector<SetupPoint2>>& rings) {
  double sum = 0;
  for (const auto& r : rings) sum += signedArea(r);
  return sum;
}

TEST(OutlineTrace, a_half_plane_is_met_exactly_and_closed_along_the_border) {
  const auto rings = outlineOf(8, [](SetupPoint2 p) { return p.x + p.y - 3.3; });
  ASSERT_EQ(rings.size(), 1u);
  EXPECT_NEAR(area(rings), 64 - 3.3 * 3.3 / 2, 1e-9);
  EXPECT_EQ(rings[0].size(), 5u);  // straight runs are one edge
}

TEST(OutlineTrace, everything_is_the_border_and_nothing_is_nothing) {
  EXPECT_NEAR(area(outlineOf(5, [](SetupPoint2) { return 1.0; })), 25, 1e-12);
  EXPECT_TRUE(outlineOf(5, [](SetupPoint2) { return -1.0; }).empty());
}

TEST(OutlineTrace, a_hole_runs_the_other_way_round) {
  const auto rings = outlineOf(40, [](SetupPoint2 p) { return std::fabs(length(p - SetupPoint2{20, 20}) - 10) - 5; });
  ASSERT_EQ(rings.size(), 3u);  // the border, the ring-shaped hole's outer edge and the island in it
  // All but a ring from radius 5 to 15; chords of about a cell make it a little different.
  EXPECT_NEAR(area(rings), 1600 - M_PI * (15 * 15 - 5 * 5), 3);
  int clockwise = 0;
  for (const auto& r : rings) clockwise += signedArea(r) < 0;
  EXPECT_EQ(clockwise, 1);
}

TEST(OutlineTrace, values_of_exactly_zero_at_corners_still_close_the_rings) {
  const auto rings = outlineOf(8, [](SetupPoint2 p) { return 2.0 - std::fabs(p.x - 4) - std::fabs(p.y - 4); });
  EXPECT_NEAR(area(rings), 8, 1e-12);  // a square on its corner, 2 to each side
}

TEST(OutlineTrace, a_circle_loses_corners_but_none_farther_away_than_the_tolerance) {
  std::vector<SetupPoint2> circle;
  for (int i = 0; i < 1000; ++i)
    circle.push_back({10 * std::cos(2 * M_PI * i / 1000), 10 * std::sin(2 * M_PI * i / 1000)});
  const auto few = placing::simplified(circle, 0.02);
  // Chords of sagitta 0.02 are 2 sqrt(2 · 10 · 0.02) = 1.265 long: at least 50 of them.
  EXPECT_LE(few.size(), 120u);
  EXPECT_GE(few.size(), 49u);
  for (std::size_t i = 0; i < few.size(); ++i) {
    EXPECT_GE(length(middle(few[i], few[(i + 1) % few.size()]) - SetupPoint2{}), 10 - 0.02 - 1e-12);
  }
}

TEST(OutlineTrace, a_sliver_is_not_simplified_away) {
  const std::vector<SetupPoint2> sliver{{0, 0}, {5, 0.001}, {10, 0}, {10, 0.01}, {5, 0.011}, {0, 0.01}};
  EXPECT_GT(signedArea(placing::simplified(sliver, 0.05)), 0.05);
}

}  // namespace
}  // namespace provecut
