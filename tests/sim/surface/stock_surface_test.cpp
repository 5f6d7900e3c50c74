// The surface of the cut stock: closed whatever was cut, and as large as what is left.
#include "sim/surface/stock_surface.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "tests/sim/surface/closed.h"

namespace provecut {
namespace {

using testing::expectClosed;

cutting::DexelField stock(int nx, int ny, double cell, double thickness) {
  Stock stock;
  stock.size_mm = {nx * cell, ny * cell, thickness};
  return cutting::uncutStock(stock, {cell, cell});
}

void setDexel(cutting::DexelField& f, int x, int y, float floor, float top) {
  const cutting::Cell c = f.index(x, y);
  f.floor[c] = f.floor_mean[c] = floor;
  f.top[c] = f.top_mean[c] = top;
}

TEST(StockSurface, of_an_uncut_stock_is_a_box_of_twelve_triangles) {
  const surface::TriangleMesh mesh = surface::stockSurface(stock(40, 20, 0.5, 18));
  expectClosed(mesh);
  EXPECT_EQ(mesh.triangles.size(), 12u);
  EXPECT_NEAR(surface::volume_mm3(mesh), 20.0 * 10 * 18, 1e-6);
}

TEST(StockSurface, of_a_pocket_and_a_hole_is_closed_and_its_volume_right) {
  cutting::DexelField f = stock(60, 40, 0.5, 10);
  for (int y = 10; y < 20; ++y) {
    for (int x = 10; x < 30; ++x) setDexel(f, x, y, 0, 6);
    for (int x = 40; x < 50; ++x) setDexel(f, x, y, 0, 0);
  }
  const surface::TriangleMesh mesh = surface::stockSurface(f);
  expectClosed(mesh);
  // Walls stand half-way between the centres of the cells beside them, so the hole's four corners are cut off by half a
  // cell; at the pocket's, what its slanting walls leave and take is the same.
  const double corner_mm2 = 0.25 * 0.25 / 2;
  EXPECT_NEAR(surface::volume_mm3(mesh), 30.0 * 20 * 10 - 10 * 5 * 4 - 5 * 5 * 10 + 4 * corner_mm2 * 10, 1e-3);
}

TEST(StockSurface, of_a_round_hole_follows_the_circle_and_not_the_raster) {
  const double cell = 0.25, radius = 7.3, cx = 12.6, cy = 11.9;
  cutting::DexelField f = stock(100, 100, cell, 10);
  // What the cut leaves: heights at the centre, means by the part of the cell outside the circle (counted on 20 x 20
  // points).
  for (int y = 0; y < 100; ++y) {
    for (int x = 0; x < 100; ++x) {
      int outside = 0;
      for (int v = 0; v < 20; ++v) {
        for (int u = 0; u < 20; ++u)
          outside += std::hypot((x + (u + 0.5) / 20) * cell - cx, (y + (v + 0.5) / 20) * cell - cy) > radius;
      }
      if (outside == 400) continue;
      const cutting::Cell c = f.index(x, y);
      f.top[c] = std::hypot(f.centreX(x) - cx, f.centreY(y) - cy) > radius ? 10 : 0;
      f.top_mean[c] = static_cast<float>(10.0 * outside / 400);
    }
  }
  const surface::TriangleMesh mesh = surface::stockSurface(f);
  expectClosed(mesh);
  EXPECT_NEAR(surface::volume_mm3(mesh), (25.0 * 25 - std::numbers::pi * radius * radius) * 10, 0.001 * 6250);
  // No point of the hole's wall (those off the cells' centres) is farther from the circle than a tenth of a cell:
  // stairs would be half a cell off.
  const auto centred = [&](float v) {
    return std::fabs(std::remainder(static_cast<double>(v) - cell / 2, cell)) < 1e-4;
  };
  for (const auto& p : mesh.points) {
    if (centred(p[0]) && centred(p[1])) continue;
    const double away = std::hypot(static_cast<double>(p[0]) - cx, static_cast<double>(p[1]) - cy) - radius;
    if (std::fabs(away) < cell / 2) {
      EXPECT_LT(std::fabs(away), 0.1 * cell) << p[0] << " " << p[1];
    }
  }
}

TEST(StockSurface, of_round_stock_follows_the_circle) {
  Stock disc;
  disc.size_mm = {50, 50, 10};
  disc.shape = StockShape::round;
  cutting::DexelField f = cutting::uncutStock(disc, {0.25, 0.25});
  cutting::shareRim(disc, f);
  const surface::TriangleMesh mesh = surface::stockSurface(f);
  expectClosed(mesh);
  EXPECT_NEAR(surface::volume_mm3(mesh), std::numbers::pi * 625 * 10, 1e-3 * 19'635);
  for (const auto& p : mesh.points) {
    const double x = double{p[0]}, y = double{p[1]}, away = std::hypot(x - 25, y - 25) - 25;
    // Where the square about it touches the circle the raster ends: its side stands for the arc of half a cell's rise.
    const bool at_end = x == 0 || y == 0 || x == 50 || y == 50;
    EXPECT_LT(away, at_end ? 0.5 * 0.25 : 0.1 * 0.25) << x << " " << y;
  }
}

TEST(StockSurface, is_closed_whatever_is_left) {
  std::mt19937 random(20);
  for (int round = 0; round < 60; ++round) {
    const int nx = 1 + static_cast<int>(random() % 12), ny = 1 + static_cast<int>(random() % 12);
    cutting::DexelField f = stock(nx, ny, 0.4, 8);
    double left = 0;
    for (int y = 0; y < ny; ++y) {
      for (int x = 0; x < nx; ++x) {
        const unsigned kind = random() % 4;
        const float floor = static_cast<float>(random() % 3), top = 4 + static_cast<float>(random() % 4);
        if (kind == 0) setDexel(f, x, y, 0, 0);
        if (kind == 1) setDexel(f, x, y, floor, top);
        left += static_cast<double>(f.thickness(f.index(x, y)));
      }
    }
    const surface::TriangleMesh mesh = surface::stockSurface(f);
    expectClosed(mesh);
    EXPECT_EQ(mesh.triangles.empty(), left == 0);
    if (left > 0) {
      EXPECT_GT(surface::volume_mm3(mesh), 0);
    }
  }
}

TEST(StockSurface, of_a_stock_cut_away_is_empty) {
  cutting::DexelField f = stock(3, 3, 1, 8);
  for (int y = 0; y < 3; ++y) {
    for (int x = 0; x < 3; ++x) setDexel(f, x, y, 0, 0);
  }
  EXPECT_TRUE(surface::stockSurface(f).triangles.empty());
}

}  // namespace
}  // namespace provecut
