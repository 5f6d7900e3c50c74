#include "sim/stock/height_map.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <vector>

#include "tests/sim/scene.h"

namespace provecut::testing {
namespace {

cutting::DexelField stock(double cell) {
  Stock stock;
  stock.size_mm = {100, 50, 10};
  return cutting::uncutStock(stock, {cell, cell});
}

TEST(HeightMap, a_stock_within_the_bound_is_handed_on_cell_by_cell) {
  cutting::DexelField field = stock(1);
  field.top[field.index(7, 3)] = 4;
  const cutting::HeightMap map = cutting::heightMap(field, 5000);
  ASSERT_EQ(map.nx, 100);
  ASSERT_EQ(map.ny, 50);
  EXPECT_EQ(map.top[3 * 100 + 7], 4);
  EXPECT_EQ(std::count(map.top.begin(), map.top.end(), 10.0F), 4999);
}

TEST(HeightMap, a_finer_stock_is_made_coarser_until_it_is_within_the_bound_and_keeps_its_size) {
  const cutting::HeightMap map = cutting::heightMap(stock(0.25), 5000);
  EXPECT_LE(map.nx * map.ny, 5000);
  EXPECT_GE(map.nx * map.ny, 4500);
  EXPECT_NEAR(map.nx * map.cell_x_mm, 100, 1e-9);
  EXPECT_NEAR(map.ny * map.cell_y_mm, 50, 1e-9);
}

TEST(HeightMap, a_coarse_cell_holds_the_mean_of_its_dexels) {
  cutting::DexelField field = stock(1);
  field.top[field.index(0, 0)] = 2;
  const cutting::HeightMap map = cutting::heightMap(field, 1250);
  ASSERT_EQ(map.nx, 50);
  EXPECT_FLOAT_EQ(map.top.at(0), (2 + 3 * 10) / 4.0F);
}

TEST(HeightMap, a_cell_is_a_hole_where_max_of_its_dexels_hold_nothing) {
  cutting::DexelField field = stock(1);
  const auto open = [&](int x, int y) { field.top[field.index(x, y)] = field.floor[field.index(x, y)]; };
  open(0, 0), open(1, 0), open(0, 1);  // three of four
  open(2, 0), open(3, 0);              // two of the next four
  const cutting::HeightMap map = cutting::heightMap(field, 1250);
  EXPECT_EQ(map.top.at(0), map.floor.at(0));
  EXPECT_EQ(map.top[1], 10);
  EXPECT_EQ(map.floor[1], 0);
}

TEST(HeightMap, what_hangs_over_a_groove_is_told_by_its_runs_in_cells_as_coarse_as_the_map) {
  // Head 16 x 6 on a neck of 8, 10 deep along y = 20 in 18: the lips hang from y = 12 to 16 and from 24 to 28, over z =
  // 8 to 14.
  Job job = stockOf({60, 40, 18}, {keyholeTool(1, 16, 6, 8, 20)}, 0.25);
  addProgram(job, 0, 1);
  Moves groove(1);
  groove.rapid({-20, 20, -10}).feed({80, 20, -10}).rapid({80, 20, 5});
  cutting::HeightMap map;
  RunOptions options;
  options.finished_stock = [&](const cutting::DexelField& dexels) { map = cutting::heightMap(dexels, 2400); };
  const std::vector<Program> programs{groove.program()};
  run(job, programs, options);
  ASSERT_EQ(map.nx, 60);
  ASSERT_EQ(map.ny, 40);
  ASSERT_EQ(map.overhangs.size(), 60u * 8);
  for (const cutting::HeightMap::Overhang& h : map.overhangs) {
    const int row = static_cast<int>(h.cell) / map.nx;
    EXPECT_TRUE((row >= 12 && row < 16) || (row >= 24 && row < 28)) << row;
    ASSERT_EQ(h.segments.size(), 2u);
    EXPECT_NEAR(h.segments[0].high, 8, 1e-4);
    EXPECT_NEAR(h.segments[1].low, 14, 1e-4);
    EXPECT_NEAR(h.segments[1].high, 18, 1e-4);
  }
  EXPECT_TRUE(std::is_sorted(map.overhangs.begin(), map.overhangs.end(),
                             [](const auto& a, const auto& b) { return a.cell < b.cell; }));
}

}  // namespace
}  // namespace provecut::testing
