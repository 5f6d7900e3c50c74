// How much of the stock is free: rings within a rectangle or a disc.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "report/placing/free_places.h"

namespace provecut {
namespace {

constexpr double pi = std::numbers::pi;

placing::FreeRegion regionOf(std::vector<std::vector<SetupPoint2>> rings) {
  placing::FreeRegion region;
  region.rings = std::move(rings);
  return region;
}

std::vector<SetupPoint2> box(SetupPoint2 low, SetupPoint2 high) {
  return {low, {high.x, low.y}, high, {low.x, high.y}};
}

constexpr StockPlan disc{{100, 100}, true};

TEST(StockShare, of_a_disc_counts_what_is_in_it) {
  EXPECT_NEAR(stockShare(regionOf({box({-40, -40}, {140, 140})}), disc), 1, 1e-12);
  EXPECT_NEAR(stockShare(regionOf({box({-40, -40}, {50, 140})}), disc), 0.5, 1e-12);
  EXPECT_NEAR(stockShare(regionOf({box({50, 50}, {140, 140})}), disc), 0.25, 1e-12);
  EXPECT_NEAR(stockShare(regionOf({box({40, 40}, {60, 60})}), disc), 400 / (pi * 2500), 1e-12);
  EXPECT_EQ(stockShare(regionOf({box({0, 0}, {14, 14})}), disc), 0) << "a corner of the square";
  // A hole runs clockwise.
  std::vector<SetupPoint2> hole = box({40, 40}, {60, 60});
  std::reverse(hole.begin(), hole.end());
  EXPECT_NEAR(stockShare(regionOf({box({-40, -40}, {140, 140}), hole}), disc), 1 - 400 / (pi * 2500), 1e-12);
}

TEST(StockShare, of_random_triangles_is_what_a_count_of_points_says) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> at(-30, 130);
  for (int i = 0; i < 60; ++i) {
    std::vector<SetupPoint2> t{{at(random), at(random)}, {at(random), at(random)}, {at(random), at(random)}};
    if (cross(t[1] - t[0], t[2] - t[0]) < 0) std::swap(t[1], t[2]);
    int in = 0, all = 0;
    for (double y = 0.125; y < 100; y += 0.25) {
      for (double x = 0.125; x < 100; x += 0.25) {
        const SetupPoint2 p{x, y};
        if (length(p - disc.middle()) > 50) continue;
        ++all;
        bool inside = true;
        for (int k = 0; k < 3; ++k) inside = inside && cross(t[(k + 1) % 3] - t[k], p - t[k]) > 0;
        in += inside;
      }
    }
    EXPECT_NEAR(stockShare(regionOf({t}), disc), static_cast<double>(in) / all, 2e-3) << i;
  }
}

}  // namespace
}  // namespace provecut
