// Thin walls and posts left standing: how thick and high is known from how each scene is built.
#include <gtest/gtest.h>

#include "tests/sim/scene.h"

namespace provecut::testing {
namespace {

Job stock(double cell = 0.25) {
  return stockOf({100, 60, 18}, {flatTool(1, 6), drillTool(2, 6, 118)}, cell);
}

std::vector<Sliver> sliversOf(const Moves& m, double cell = 0.25) {
  return runOf(stock(cell), {m.program()}).programs[0].slivers;
}

// Two slots 6 mm wide side by side leave what lies between.
Moves fin(double thick, double depth, Vec2 along = {60, 0}) {
  const double l = length(along);
  const Vec2 across = Vec2{-along.y, along.x} * ((6 + thick) / l);
  const WorkPoint2 a{20, 15};
  return Moves(1).slot({a, a + along}, depth).slot({a + across, a + across + along}, depth);
}

TEST(Sliver, a_wall_of_six_tenths_is_found_with_its_size_at_every_raster) {
  for (const double cell : {0.1, 0.25, 0.5}) {
    SCOPED_TRACE(cell);
    const auto s = sliversOf(fin(0.6, 12), cell);
    ASSERT_EQ(s.size(), 1U);
    EXPECT_NEAR(s[0].width_mm, 0.6, 0.08);
    EXPECT_NEAR(s[0].height_mm, 12, 1e-4);
    EXPECT_NEAR(s[0].at.z, 0, 1e-4);
    EXPECT_EQ(s[0].move, 6U);  // the second slot made it
  }
}

TEST(Sliver, a_millimetre_is_thick_enough_and_a_tenth_less_is_not) {
  EXPECT_TRUE(sliversOf(fin(1.05, 12), 0.1).empty());
  EXPECT_EQ(sliversOf(fin(0.95, 12), 0.1).size(), 1U);
}

TEST(Sliver, three_millimetres_is_the_least_height) {
  EXPECT_EQ(sliversOf(fin(0.6, 3.01)).size(), 1U);
  EXPECT_TRUE(sliversOf(fin(0.6, 2.99)).empty());
}

TEST(Sliver, one_that_runs_aslant_is_measured_across) {
  const auto s = sliversOf(fin(0.8, 10, {40, 20}), 0.1);
  ASSERT_EQ(s.size(), 1U);
  EXPECT_NEAR(s[0].width_mm, 0.8, 0.1);
}

TEST(Sliver, slots_that_just_touch_leave_nothing_standing) {
  for (const double cell : {0.1, 0.25, 0.5}) {
    EXPECT_TRUE(sliversOf(fin(0, 12), cell).empty()) << cell;
    EXPECT_TRUE(sliversOf(fin(-1, 12), cell).empty()) << cell;
  }
}

TEST(Sliver, a_post_that_stands_free_counts_though_it_is_short) {
  // A ring trench round a post of 0.8 mm.
  Moves m(1);
  m.rapid({53.4, 30, 5}).feed({53.4, 30, -10}).arc(MotionKind::arc_ccw, {53.4, 30, -10}, {50, 30}).rapid({53.4, 30, 5});
  const auto s = sliversOf(m, 0.1);
  ASSERT_EQ(s.size(), 1U);
  EXPECT_NEAR(s[0].at.x, 50, 0.5);
  EXPECT_NEAR(s[0].at.y, 30, 0.5);
}

TEST(Sliver, the_cusps_of_a_row_of_overlapping_holes_are_none) {
  Moves m(2);
  for (int k = 0; k < 8; ++k) m.slot({{20 + 4.0 * k, 30}}, 12);
  EXPECT_TRUE(sliversOf(m, 0.1).empty());
}

TEST(Sliver, a_strip_at_the_stocks_edge_counts) {
  // The slot's wall is 0.7 mm from the edge.
  EXPECT_EQ(sliversOf(Moves(1).slot({{20, 3.7}, {80, 3.7}}, 12)).size(), 1U);
}

TEST(Sliver, one_that_stood_before_is_not_said_again) {
  const auto r = runOf(stock(), {fin(0.6, 12).program(), Moves(1).slot({{20, 50}, {60, 50}}, 5).program()});
  EXPECT_EQ(r.programs[0].slivers.size(), 1U);
  EXPECT_TRUE(r.programs[1].slivers.empty());
}

}  // namespace
}  // namespace provecut::testing
