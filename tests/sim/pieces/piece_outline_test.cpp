// Outlines of pieces against the shapes they were cut to: known from the moves and the cutter's diameter.
#include "sim/pieces/piece_outline.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "parser/job/outline_check.h"
#include "sim/path/setup_frame.h"
#include "sim/stock/dexel_field.h"
#include "tests/sim/scene.h"

namespace provecut::testing {
namespace piece_outline_test {

constexpr double cell_mm = 0.25;

double areaOf(const std::vector<StockRing>& rings) {
  double area = 0;
  for (const StockRing& ring : rings) {
    for (std::size_t k = 0; k < ring.size(); ++k) {
      const StockPoint2 a = ring[k], b = ring[(k + 1) % ring.size()];
      area += (a.x * b.y - b.x * a.y) / 2;
    }
  }
  return area;
}

std::vector<Piece> piecesOf(Job job, const Program& program) {
  addProgram(job, 0, 1, {});
  RunOptions options;
  options.outlines = true;
  const std::vector<Program> programs{program};
  return run(job, programs, options).programs[0].pieces;
}

cutting::DexelField rasterOf(int nx, int ny) {
  Stock stock;
  stock.size_mm = {nx * cell_mm, ny * cell_mm, 6};
  return cutting::uncutStock(stock, {cell_mm, cell_mm});
}

// Rings of the dexels for which `in` is true, in a setup like the stock's own frame.
template <class In>
std::vector<StockRing> ringsWhere(const cutting::DexelField& f, const In& in) {
  std::vector<cutting::Cell> cells;
  for (int y = 0; y < f.ny; ++y) {
    for (int x = 0; x < f.nx; ++x) {
      if (in(f.centre(x, y))) cells.push_back(f.index(x, y));
    }
  }
  Stock stock;
  stock.size_mm = {f.nx * f.cell_x_mm, f.ny * f.cell_y_mm, 6};
  return pieces::pieceOutline(f, cells, stock, Setup{});
}

TEST(PieceOutline, a_square_is_its_four_corners) {
  const auto rings =
      ringsWhere(rasterOf(80, 80), [](SetupPoint2 p) { return p.x > 5 && p.x < 12 && p.y > 4 && p.y < 9; });
  ASSERT_EQ(rings.size(), 1U);
  const StockRing square{{5, 4}, {12, 4}, {12, 9}, {5, 9}};
  ASSERT_EQ(rings[0].size(), 4U);
  EXPECT_TRUE(std::is_permutation(rings[0].begin(), rings[0].end(), square.begin()));
  EXPECT_GT(areaOf(rings), 0) << "counter-clockwise";
}

TEST(PieceOutline, a_disc_with_a_hole_is_two_smooth_rings_within_a_cell_of_the_circles) {
  const SetupPoint2 middle{15.1, 14.9};
  const auto rings = ringsWhere(rasterOf(120, 120), [&](SetupPoint2 p) {
    const double r = length(p - middle);
    return r < 12 && r > 4;
  });
  ASSERT_EQ(rings.size(), 2U);
  EXPECT_NEAR(areaOf(rings), std::numbers::pi * (144 - 16), 0.01 * std::numbers::pi * (144 - 16));
  EXPECT_GT(areaOf({rings[0]}), 0);
  EXPECT_LT(areaOf({rings[1]}), 0) << "a hole runs the other way";
  for (std::size_t k = 0; k < 2; ++k) {
    const double radius = k == 0 ? 12 : 4;
    EXPECT_LT(rings[k].size(), 60U) << "the raster's steps are gone";
    for (std::size_t i = 0; i < rings[k].size(); ++i) {
      const StockPoint2 a = rings[k][i], b = rings[k][(i + 1) % rings[k].size()];
      for (const StockPoint2 p : {a, provecut::middle(a, b)})
        EXPECT_NEAR(std::hypot(p.x - middle.x, p.y - middle.y), radius, cell_mm);
    }
  }
}

TEST(PieceOutline, a_slanting_edge_is_straight) {
  const auto rings = ringsWhere(
      rasterOf(120, 120), [](SetupPoint2 p) { return p.x > 3 && p.y > 4 && p.y < 4 + 0.37 * (p.x - 3) && p.x < 27; });
  ASSERT_EQ(rings.size(), 1U);
  EXPECT_LE(rings[0].size(), 6U);
  EXPECT_NEAR(areaOf(rings), 0.5 * 24 * 24 * 0.37, 0.02 * 0.5 * 24 * 24 * 0.37);
}

TEST(PieceOutline, sides_that_run_into_round_corners_stay_where_they_are) {
  // 20 x 12 mm about the middle of the field, corners of radius 4.
  const auto rings = ringsWhere(rasterOf(120, 120), [](SetupPoint2 p) {
    const Vec2 out{std::max(0.0, std::abs(p.x - 15) - 6), std::max(0.0, std::abs(p.y - 15) - 2)};
    return length(out) < 4;
  });
  ASSERT_EQ(rings.size(), 1U);
  int on_sides = 0;
  for (const StockPoint2 p : rings[0]) {
    const double x = std::abs(p.x - 15), y = std::abs(p.y - 15);
    on_sides += (std::abs(x - 10) < 1e-9 && y > 1.5) || (std::abs(y - 6) < 1e-9 && x > 5);
  }
  EXPECT_EQ(on_sides, 8) << "both ends of each side";
  EXPECT_NEAR(areaOf(rings), 20 * 12 - (4 - std::numbers::pi) * 16, 0.01 * 20 * 12);
}

TEST(PieceOutline, dexels_that_meet_at_a_corner_only_are_apart) {
  const auto rings = ringsWhere(rasterOf(40, 40), [](SetupPoint2 p) { return (p.x < 5) == (p.y < 5); });
  ASSERT_EQ(rings.size(), 2U);
  for (const StockRing& ring : rings) EXPECT_NEAR(areaOf({ring}), 25, 0.1);
}

TEST(PieceOutline, rings_of_random_pieces_hold_what_the_dexels_do_and_none_crosses_itself) {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> place(3, 27), radius(1.5, 7);
  for (int sheet = 0; sheet < 40; ++sheet) {
    std::vector<std::pair<SetupPoint2, double>> solid, holes;
    for (int k = 0; k < 4; ++k) solid.push_back({{place(random), place(random)}, radius(random)});
    for (int k = 0; k < 2; ++k) holes.push_back({{place(random), place(random)}, radius(random) / 2});
    const auto within = [](const auto& discs, SetupPoint2 p) {
      return std::any_of(discs.begin(), discs.end(), [&](const auto& d) { return length(p - d.first) < d.second; });
    };
    const cutting::DexelField f = rasterOf(120, 120);
    const auto in = [&](SetupPoint2 p) { return within(solid, p) && !within(holes, p); };
    const auto rings = ringsWhere(f, in);
    double cells = 0, edges = 0;
    for (int y = 0; y < f.ny; ++y) {
      for (int x = 0; x < f.nx; ++x) {
        cells += in(f.centre(x, y));
        if (x + 1 < f.nx) edges += in(f.centre(x, y)) != in(f.centre(x + 1, y));
        if (y + 1 < f.ny) edges += in(f.centre(x, y)) != in(f.centre(x, y + 1));
      }
    }
    // A chord of an arc may lie two thirds of the tolerance within it on average: half a cell.
    EXPECT_NEAR(areaOf(rings), cells * cell_mm * cell_mm, 0.34 * edges * cell_mm * cell_mm) << sheet;
    for (const StockRing& ring : rings) {
      std::vector<SetupPoint2> plain;  // in a setup like the stock's own frame
      for (const StockPoint2 p : ring) plain.push_back({p.x, p.y});
      EXPECT_FALSE(crossingEdges(plain)) << sheet;
    }
  }
}

TEST(PieceOutline, a_loose_square_is_as_wide_as_the_kerf_leaves_it) {
  const Job job = stockOf({80, 60, 6}, {flatTool(1, 3)}, cell_mm);
  const auto pieces = piecesOf(job, Moves(1).rectangle({20, 15}, {50, 45}, -6.2).program());
  ASSERT_EQ(pieces.size(), 1U);
  ASSERT_EQ(pieces[0].outline.size(), 1U);
  EXPECT_NEAR(areaOf(pieces[0].outline), 27 * 27, 4 * 27 * cell_mm / 2);
  for (const StockPoint2 p : pieces[0].outline[0]) {
    EXPECT_NEAR(std::max(std::abs(p.x - 35), std::abs(p.y - 30)), 13.5, cell_mm);
  }
}

TEST(PieceOutline, nothing_is_traced_unless_asked_for) {
  Job job = stockOf({80, 60, 6}, {flatTool(1, 3)}, cell_mm);
  const auto r = runOf(job, {Moves(1).rectangle({20, 15}, {50, 45}, -6.2).program()});
  ASSERT_EQ(r.programs[0].pieces.size(), 1U);
  EXPECT_TRUE(r.programs[0].pieces[0].outline.empty());
}

TEST(PieceOutline, flipped_and_rotated_stock_gives_the_place_in_the_stock_still_counter_clockwise) {
  for (const Flip flip : {Flip::none, Flip::left_right, Flip::front_back}) {
    for (const int rotate : {0, 90, 180, 270}) {
      Job job = stockOf({80, 60, 6}, {flatTool(1, 3)}, cell_mm);
      auto& setup = job.setups[0];
      setup.flip = flip;
      setup.rotate_deg = rotate;
      // A square of 27 mm about a place of the stock that is off its middle.
      const SetupPoint2 c = stockToSetup(job.stock, setup, StockPoint2{20, 40});
      const WorkPoint2 w = setupToWork(setup, c);
      const auto pieces = piecesOf(job, Moves(1).rectangle({w.x - 15, w.y - 15}, {w.x + 15, w.y + 15}, -6.2).program());
      ASSERT_EQ(pieces.size(), 1U);
      ASSERT_EQ(pieces[0].outline.size(), 1U);
      EXPECT_NEAR(areaOf(pieces[0].outline), 27 * 27, 4 * 27 * cell_mm / 2);
      for (const StockPoint2 p : pieces[0].outline[0])
        EXPECT_NEAR(std::max(std::abs(p.x - 20), std::abs(p.y - 40)), 13.5, cell_mm);
    }
  }
}

}  // namespace piece_outline_test
}  // namespace provecut::testing
