// Turning the stock over and round: what is cut in one frame is found again in every other.
#include <gtest/gtest.h>

#include <vector>

#include "sim/path/setup_frame.h"
#include "sim/stock/cut.h"
#include "sim/stock/dexel_field.h"
#include "tests/sim/scene.h"

namespace provecut::testing {
namespace turning_test {

constexpr Vec3 size{60, 40, 12};

std::vector<Setup> everyWayToLie() {
  std::vector<Setup> setups;
  for (const Flip flip : {Flip::none, Flip::front_back, Flip::left_right}) {
    for (const int rotate : {0, 90, 180, 270}) {
      Setup s;
      s.flip = flip;
      s.rotate_deg = rotate;
      setups.push_back(s);
    }
  }
  return setups;
}

Stock stock() {
  Stock s;
  s.size_mm = size;
  return s;
}

// Cells of 0.5 x 0.4 mm, so that x and y cannot be taken for each other.
cutting::DexelField uncut() {
  return cutting::uncutStock(stock(), {0.5, 0.4});
}

// A blind hole of 5 mm depth from the setup's upper face, over the given place of the stock.
cutting::DexelField drilled(const Setup& setup, StockPoint2 place) {
  const provecut::Setup as_stock;
  cutting::DexelField field = cutting::movedTo(uncut(), as_stock, setup);
  Job job = stockOf(size, {flatTool(1, 4)});
  const SetupPoint2 at = stockToSetup(stock(), setup, place);
  Setup zeroed = setup;
  zeroed.zero_mm = {0, 0, size.z};
  const Program program = Moves(1).slot({{at.x, at.y}}, 5).program();
  cutting::cutProgram(field, makeCutters(job), job, zeroed, program.motions);
  return cutting::movedTo(field, setup, as_stock);
}

TEST(Turning, a_hole_drilled_in_any_setup_is_where_the_stock_frame_has_it) {
  const StockPoint2 point{17.3, 8.9};
  for (const auto& setup : everyWayToLie()) {
    SCOPED_TRACE(::testing::Message() << "turn " << static_cast<int>(setup.flip) << ", rotate " << setup.rotate_deg);
    const cutting::DexelField field = drilled(setup, point);
    const bool from_above = setup.flip == Flip::none;
    for (int y = 0; y < field.ny; ++y) {
      for (int x = 0; x < field.nx; ++x) {
        const cutting::Cell c = field.index(x, y);
        const double d = std::hypot(field.centreX(x) - point.x, field.centreY(y) - point.y);
        if (std::abs(d - 2) < 1e-3) continue;
        const bool in_hole = d < 2;
        ASSERT_NEAR(field.top[c], in_hole && from_above ? size.z - 5 : size.z, 1e-5)
            << "at " << field.centreX(x) << ", " << field.centreY(y);
        ASSERT_NEAR(field.floor[c], in_hole && !from_above ? 5 : 0, 1e-5);
      }
    }
  }
}

TEST(Turning, there_and_back_is_the_stock_as_it_was) {
  const provecut::Setup as_stock;
  const cutting::DexelField cut = drilled(everyWayToLie()[6], {41.1, 30.2});
  for (const auto& setup : everyWayToLie()) {
    const cutting::DexelField back = cutting::movedTo(cutting::movedTo(cut, as_stock, setup), setup, as_stock);
    EXPECT_EQ(back.nx, cut.nx);
    for (std::size_t c = 0; c < cut.top.size(); ++c) {
      ASSERT_NEAR(back.top[c], cut.top[c], 1e-5);
      ASSERT_NEAR(back.floor[c], cut.floor[c], 1e-5);
      ASSERT_NEAR(back.top_mean[c], cut.top_mean[c], 1e-5);
    }
    EXPECT_NEAR(cutting::volume_mm3(cutting::movedTo(cut, as_stock, setup)), cutting::volume_mm3(cut),
                1e-6 * cutting::volume_mm3(cut));
  }
}

TEST(Turning, frames_of_points_are_those_of_the_drawing) {
  // Stock 420 x 130 x 19.05: over y (12, 12, 19.05) -> (408, 12, 0); over x -> (12, 118, 0); a point (320, 30) turned
  // by 90 degrees counter-clockwise goes to (130 - 30, 320), by 180 to (100, 100), by 270 to (30, 420 - 320)
  // (geometry).
  Stock s;
  s.size_mm = {420, 130, 19.05};
  provecut::Setup setup;
  setup.flip = Flip::left_right;
  const auto near = [&](auto got, decltype(got) want) {
    EXPECT_LT(length(got - want), 1e-9) << got.x << " " << got.y << " " << got.z;
  };
  near(stockToSetup(s, setup, StockPoint{12, 12, 19.05}), {408, 12, 0});
  near(stockToSetup(s, setup, StockPoint{100, 30, 13.05}), {320, 30, 6});
  for (const auto& [degrees, want] :
       {std::pair{90, SetupPoint{100, 320, 6}}, {180, SetupPoint{100, 100, 6}}, {270, SetupPoint{30, 100, 6}}}) {
    setup.rotate_deg = degrees;
    near(stockToSetup(s, setup, StockPoint{100, 30, 13.05}), want);
    near(setupToStock(s, setup, want), {100, 30, 13.05});
  }
  setup = {};
  setup.flip = Flip::front_back;
  near(stockToSetup(s, setup, StockPoint{12, 12, 19.05}), {12, 118, 0});
}

// Cutting only ever takes away, and cuts that do not touch may come in any order.
TEST(Cutting, never_adds_material_and_separate_cuts_commute) {
  const Job job = stockOf({120, 60, 19.05}, {flatTool(1, 6), ballTool(2, 6), veeTool(3, 12, 60), bullTool(4, 8, 2)});
  const Cutters cutters = makeCutters(job);
  const std::vector<Program> cuts = {
      Moves(1).slot({{10, 10}, {30, 14}}, 4).program(), Moves(2).slot({{60, 12}, {80, 10}}, 3).program(),
      Moves(3).slot({{15, 45}, {40, 40}}, 3).program(), Moves(4).slot({{70, 45}, {100, 42}}, 5).program()};
  const auto cutInOrder = [&](const std::vector<int>& order) {
    cutting::DexelField field = cutting::uncutStock(job.stock, {0.25, 0.25});
    for (const int k : order) {
      const cutting::DexelField before = field;
      cutting::cutProgram(field, cutters, job, job.setups[0], cuts[static_cast<std::size_t>(k)].motions);
      for (std::size_t c = 0; c < field.top.size(); ++c) {
        EXPECT_LE(field.top[c], before.top[c]);
        EXPECT_LE(field.top_mean[c], before.top_mean[c]);
      }
    }
    return field;
  };
  const cutting::DexelField one = cutInOrder({0, 1, 2, 3}), other = cutInOrder({3, 1, 0, 2});
  EXPECT_EQ(one.top, other.top);
  EXPECT_EQ(one.top_mean, other.top_mean);
}

}  // namespace turning_test
}  // namespace provecut::testing
