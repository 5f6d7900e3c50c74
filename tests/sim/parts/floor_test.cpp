// The thinnest floors and webs, from one side and from both.
#include <gtest/gtest.h>

#include <algorithm>

#include "sim/stock/cut_kernel.h"
#include "tests/sim/scene.h"

namespace provecut::testing {
namespace floor_test {

Job stock(double tolerance = 0, double min_floor = 1.5) {
  Job job = stockOf({120, 60, 18}, {flatTool(1, 6), drillTool(2, 6, 118), veeTool(3, 12, 90)});
  job.stock.thickness_tolerance_mm = tolerance;
  job.limits.min_floor_mm = min_floor;
  Setup back = job.setups[0];
  back.flip = Flip::left_right;
  job.setups.push_back(back);
  return job;
}

Run twoSides(Job job, const Moves& front, const Moves& back) {
  addProgram(job, 0, front.program().motions.front().tool);
  addProgram(job, 1, back.program().motions.front().tool);
  return run(job, std::vector<Program>{front.program(), back.program()});
}

TEST(Floor, a_slot_with_a_millimetre_left_is_thin_by_its_exact_height) {
  const auto r = runOf(stock(), {Moves(1).slot({{20, 20}, {70, 20}}, 17.03).program()});
  ASSERT_EQ(r.programs[0].thin_floors.size(), 1U);
  EXPECT_NEAR(r.programs[0].thin_floors[0].thickness_mm, 0.97, 1e-4);
  EXPECT_EQ(r.programs[0].thin_floors[0].move, 1U);  // the plunge reached that depth first
}

// A 1.6 mm sheet engraved or halved is as meant; a skin of 0.4 mm is not.
TEST(Floor, a_thin_sheet_has_a_limit_of_its_own) {
  const auto floors = [](double depth) {
    Job job = stockOf({60, 60, 1.6}, {flatTool(1, 3)});
    job.limits.min_floor_mm = usualMinFloor_mm(job.stock.size_mm.z);
    return runOf(job, {Moves(1).slot({{20, 20}, {40, 20}}, depth).program()}).programs[0].thin_floors.size();
  };
  EXPECT_EQ(floors(0.8), 0U);
  EXPECT_EQ(floors(1.2), 1U);
}

TEST(Floor, just_enough_left_is_not_thin) {
  EXPECT_TRUE(runOf(stock(), {Moves(1).slot({{20, 20}, {70, 20}}, 16.5).program()}).programs[0].thin_floors.empty());
  EXPECT_EQ(runOf(stock(), {Moves(1).slot({{20, 20}, {70, 20}}, 16.501).program()}).programs[0].thin_floors.size(), 1U);
}

TEST(Floor, a_hole_drilled_through_leaves_no_floor_round_its_rim) {
  // The point leaves a sloping ring that thins out to nothing.
  EXPECT_TRUE(runOf(stock(), {Moves(2).slot({{30, 30}}, 19).program()}).programs[0].thin_floors.empty());
  EXPECT_TRUE(runOf(stock(), {Moves(3).slot({{20, 30}, {60, 30}}, 18.6).program()}).programs[0].thin_floors.empty());
}

TEST(Floor, the_web_between_two_pockets_is_what_neither_took) {
  // 18 less 9 from the front and 8 from the back (flipped: x runs the other way).
  const auto r = twoSides(stock(), Moves(1).slot({{30, 30}, {60, 30}}, 9), Moves(1).slot({{75, 20}, {75, 40}}, 8));
  EXPECT_TRUE(r.programs[0].thin_floors.empty());
  ASSERT_EQ(r.programs[1].thin_floors.size(), 1U);
  EXPECT_NEAR(r.programs[1].thin_floors[0].thickness_mm, 1, 1e-4);
  EXPECT_NEAR(r.programs[1].thin_floors[0].at.x, 75, 3.1);
}

// Said 18, pockets of 7 and 8.5 with 2.5 between, wanted 2.3; the stock may be 0.3 off. Whether the web changes with
// the stock depends on where each side's Z zero is: top and top by the error, one of each not at all, bottom and bottom
// by the error the other way (geometry).
TEST(Floor, the_zero_of_each_side_decides_what_a_thicker_or_thinner_stock_does_to_the_web) {
  const auto worst = [](bool front_top, bool back_top) {
    Job job = stock(0.3, 2.3);
    job.setups[0].zero_z_on_top = front_top;
    job.setups[1].zero_z_on_top = back_top;
    const auto r = twoSides(job, Moves(1).slot({{30, 30}, {60, 30}}, 7), Moves(1).slot({{75, 20}, {75, 40}}, 8.5));
    return r.programs[1].thin_floors.empty() ? 2.5 : r.programs[1].thin_floors[0].worst_mm;
  };
  EXPECT_NEAR(worst(true, true), 2.2, 1e-4);
  EXPECT_NEAR(worst(true, false), 2.5, 1e-4);
  EXPECT_NEAR(worst(false, true), 2.5, 1e-4);
  EXPECT_NEAR(worst(false, false), 2.2, 1e-4);
}

TEST(Depth, axial_depth_is_what_stands_above_the_tip_at_that_moment) {
  Moves m(1);
  m.slot({{20, 20}, {70, 20}}, 4).slot({{20, 20}, {70, 20}}, 9);
  const auto r = runOf(stock(), {m.program()});
  EXPECT_NEAR(r.programs[0].cuts[2].axial_depth_mm, 4, 1e-4);
  EXPECT_NEAR(r.programs[0].cuts[6].axial_depth_mm, 5, 1e-4);
  // Once more along the same way: nothing is met.
  m.slot({{20, 20}, {70, 20}}, 9);
  EXPECT_EQ(runOf(stock(), {m.program()}).programs[0].cuts[10].axial_depth_mm, 0);
}

TEST(Depth, below_the_stock_there_is_nothing_to_meet) {
  const auto r = runOf(stock(), {Moves(1).slot({{20, 20}, {70, 20}}, 18.4).program()});
  EXPECT_NEAR(r.programs[0].cuts[2].axial_depth_mm, 18, 1e-4);
}

TEST(Depth, a_rapid_at_the_very_top_takes_nothing_and_one_a_hundredth_lower_does) {
  Moves at_top(1), lower(1);
  at_top.rapid({20, 20, 0}).rapid({70, 20, 0});
  lower.rapid({20, 20, -0.01}).rapid({70, 20, -0.01});
  EXPECT_EQ(runOf(stock(), {at_top.program()}).programs[0].cuts[1].bite_mm, 0);
  EXPECT_NEAR(runOf(stock(), {lower.program()}).programs[0].cuts[1].bite_mm, 0.01, 1e-5);
}

TEST(Depth, an_engraving_line_finer_than_the_raster_is_still_a_cut) {
  Job job = stockOf({120, 60, 18}, {veeTool(1, 6, 30, 0.1)}, 0.5);
  const auto r = runOf(job, {Moves(1).slot({{20.1, 20.2}, {70.3, 20.2}}, 0.1).program()});
  EXPECT_NEAR(r.programs[0].cuts[2].bite_mm, 0.1, 1e-5);
  EXPECT_GT(r.programs[0].removed_mm3, 0);
}

TEST(Nut, a_deep_cut_brings_the_nut_down_on_the_stock) {
  Tool t = flatTool(1, 6);
  t.flute_length_mm = 15;
  t.stickout_mm = 15;
  Job job = stockOf({120, 60, 18}, {t});
  const auto clear = runOf(job, {Moves(1).slot({{20, 20}, {70, 20}}, 15).program()});
  EXPECT_TRUE(clear.programs[0].bodies_in_stock.empty());
  const auto hit = runOf(job, {Moves(1).slot({{20, 20}, {70, 20}}, 15.01).program()});
  ASSERT_FALSE(hit.programs[0].bodies_in_stock.empty());
  EXPECT_EQ(hit.programs[0].bodies_in_stock[0].part, ToolPart::collet_nut);
  EXPECT_NEAR(hit.programs[0].bodies_in_stock[0].depth_mm, 0.01, 1e-4);
}

TEST(Nut, passes_where_the_other_side_left_nothing) {
  cutting::DexelField field = cutting::uncutStock(stock().stock, {0.5, 0.5});
  const Sweep sweep{.ax = 30, .ay = 30, .bx = 60, .by = 30, .a_tip = -5, .b_tip = -5};
  // Its face is at 1 mm, the stock's top at 18.
  EXPECT_EQ(cutting::materialAbove(field, sweep, 10, 6, 0, field.ny), 17);
  std::fill(field.top.begin(), field.top.end(), 8.0F);
  field.floor = field.top;
  EXPECT_EQ(cutting::materialAbove(field, sweep, 10, 6, 0, field.ny), 0);
}

// Flutes of 12 mm on a shank as wide: the walls of a slot 12 mm deep stay below it, those of one a hundredth deeper do
// not; a neck thinner than the cutter stands clear, and so does a shank in a pocket wider than it.
TEST(Shank, rubs_where_the_slot_is_deeper_than_the_flutes) {
  const auto above = [](double depth, double shank, bool widened) {
    Tool t = flatTool(1, 6);
    t.flute_length_mm = 12;
    t.shank_diameter_mm = shank;
    Moves m(1);
    for (const double d : {4.0, 8.0, depth}) {
      if (widened && d != depth) m.rectangle({19, 19}, {71, 21}, -d);
      if (widened && d == depth) m.rectangle({19, 19}, {71, 21}, -11.9);
      m.slot({{20, 20}, {70, 20}}, d);
    }
    const auto r = runOf(stockOf({120, 60, 18}, {t}), {m.program()});
    double most = 0;
    for (const BodyInStock& b : r.programs[0].bodies_in_stock) {
      if (b.part == ToolPart::shank) most = std::max(most, b.depth_mm);
    }
    return most;
  };
  EXPECT_EQ(above(12, 6, false), 0);
  EXPECT_NEAR(above(12.01, 6, false), 0.01, 1e-4);
  EXPECT_NEAR(above(15, 6, false), 3, 1e-4);
  EXPECT_NEAR(above(15, 8, false), 3, 1e-4);
  EXPECT_EQ(above(15, 5, false), 0);
  EXPECT_EQ(above(15, 6, true), 0);
}

TEST(Threads, one_two_and_eight_give_the_same_bits) {
  Moves m(1);
  for (int k = 0; k < 40; ++k) m.feed({20.0 + 17 * (k % 5), 10.0 + (k * 7) % 40, -1.0 - 0.3 * k});
  Job job = stock();
  addProgram(job, 0, 1);
  const auto cuts = [&](int threads) {
    RunOptions o;
    o.threads = threads;
    return run(job, std::vector<Program>{m.program()}, o);
  };
  const auto one = cuts(1);
  for (const int threads : {2, 8}) {
    const auto many = cuts(threads);
    EXPECT_EQ(many.stock.removed_mm3, one.stock.removed_mm3);
    for (std::size_t i = 0; i < one.programs[0].cuts.size(); ++i) {
      EXPECT_EQ(many.programs[0].cuts[i].removed_mm3, one.programs[0].cuts[i].removed_mm3);
      EXPECT_EQ(many.programs[0].cuts[i].axial_depth_mm, one.programs[0].cuts[i].axial_depth_mm);
    }
  }
}

}  // namespace floor_test
}  // namespace provecut::testing
