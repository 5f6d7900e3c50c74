// Holes bored from both faces: what is left between them and how far their axes are apart.
#include <gtest/gtest.h>

#include "tests/sim/scene.h"

namespace provecut::testing {
namespace hole_pairs_test {

Job stock() {
  Job job = stockOf({120, 60, 18}, {drillTool(2, 6, 118), flatTool(1, 6)}, 0.5);
  Setup back = job.setups[0];
  back.flip = Flip::left_right;
  job.setups.push_back(back);
  return job;
}

// From the back, X runs the other way: 30 from the front is 90 here.
std::vector<HolePair> pairs(Job job, const Moves& front, const Moves& back) {
  addProgram(job, 0, front.program().motions.front().tool);
  addProgram(job, 1, back.program().motions.front().tool);
  return run(job, std::vector<Program>{front.program(), back.program()}).hole_pairs;
}

TEST(HolePairs, what_is_left_is_the_thickness_less_both_depths) {
  const auto p = pairs(stock(), Moves(2).slot({{30, 20}}, 8), Moves(2).slot({{90, 20}}, 9));
  ASSERT_EQ(p.size(), 1U);
  EXPECT_NEAR(p[0].skin_mm, 1, 1e-9);
  EXPECT_NEAR(length(p[0].offset), 0, 1e-9);
  EXPECT_EQ(p[0].run_a, 0);
  EXPECT_EQ(p[0].run_b, 1);
  EXPECT_EQ(p[0].move_b, 1U);
  EXPECT_EQ(p[0].moves_with_stock, 1);  // both zeros are on top
  EXPECT_NEAR(p[0].at.x, 90, 1e-9);
  EXPECT_NEAR(p[0].at.z, -9, 1e-9);
}

TEST(HolePairs, the_offset_is_seen_from_the_later_side) {
  // From the front 0.4 to the right; from the back that is to the left.
  const auto p = pairs(stock(), Moves(2).slot({{30.4, 20.3}}, 10), Moves(2).slot({{90, 20}}, 10));
  ASSERT_EQ(p.size(), 1U);
  EXPECT_NEAR(p[0].skin_mm, -2, 1e-9);
  EXPECT_NEAR(p[0].offset.x, -0.4, 1e-9);
  EXPECT_NEAR(p[0].offset.y, 0.3, 1e-9);
}

TEST(HolePairs, holes_that_do_not_overlap_in_plan_are_none_and_those_that_just_do_are) {
  EXPECT_TRUE(pairs(stock(), Moves(2).slot({{36, 20}}, 10), Moves(2).slot({{90, 20}}, 10)).empty());
  EXPECT_EQ(pairs(stock(), Moves(2).slot({{35.999, 20}}, 10), Moves(2).slot({{90, 20}}, 10)).size(), 1U);
}

TEST(HolePairs, a_hole_that_is_through_by_itself_and_the_way_into_a_slot_are_none) {
  EXPECT_TRUE(pairs(stock(), Moves(2).slot({{30, 20}}, 18), Moves(2).slot({{90, 20}}, 5)).empty());
  EXPECT_TRUE(pairs(stock(), Moves(1).slot({{30, 20}, {50, 20}}, 10), Moves(2).slot({{90, 20}}, 10)).empty());
}

TEST(HolePairs, pecks_are_one_hole_as_deep_as_the_last) {
  Moves front(2);
  front.rapid({30, 20, 5})
      .feed({30, 20, -3})
      .rapid({30, 20, 1})
      .feed({30, 20, -6})
      .rapid({30, 20, 1})
      .feed({30, 20, -9})
      .rapid({30, 20, 5});
  const auto p = pairs(stock(), front, Moves(2).slot({{90, 20}}, 9));
  ASSERT_EQ(p.size(), 1U);
  EXPECT_NEAR(p[0].skin_mm, 0, 1e-9);
}

TEST(HolePairs, a_bore_in_circles_is_a_hole_and_a_ring_round_a_core_is_none) {
  const auto bore = [](double path_radius) {
    Moves m(1);
    m.rapid({30 + path_radius, 20, 5}).feed({30 + path_radius, 20, -10});
    m.arc(MotionKind::arc_ccw, {30 + path_radius, 20, -10}, {30, 20}).rapid({30 + path_radius, 20, 5});
    return m;
  };
  const auto p = pairs(stock(), bore(2), Moves(2).slot({{90, 20}}, 10));
  ASSERT_EQ(p.size(), 1U);
  EXPECT_NEAR(p[0].radius_a_mm, 5, 1e-9);
  EXPECT_TRUE(pairs(stock(), bore(4), Moves(2).slot({{90, 20}}, 10)).empty());
}

TEST(HolePairs, the_zeros_decide_how_the_skin_goes_with_the_stock) {
  const auto gain = [](bool front_top, bool back_top) {
    Job job = stock();
    job.setups[0].zero_z_on_top = front_top;
    job.setups[1].zero_z_on_top = back_top;
    return pairs(job, Moves(2).slot({{30, 20}}, 8), Moves(2).slot({{90, 20}}, 9)).at(0).moves_with_stock;
  };
  EXPECT_EQ(gain(true, true), 1);
  EXPECT_EQ(gain(true, false), 0);
  EXPECT_EQ(gain(false, false), -1);
}

}  // namespace hole_pairs_test
}  // namespace provecut::testing
