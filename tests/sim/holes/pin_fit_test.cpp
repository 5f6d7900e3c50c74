// Pins and the holes that programs cut, against plane geometry. The shift is the worked example of the trade: pins at
// 60 and 372 on stock of 420 shift it by 60 + 372 - 420 = 12.
#include "sim/holes/pin_fit.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/sim/placing/scene.h"

namespace provecut {
namespace {

using namespace place_scene;

// Both sides of stock of 420 × 130 × 18, flipped left to right; the front program bores `holes`, the back stands on
// `pins`.
struct Board {
  Job job = plainJob();
  Program front;

  Board() {
    job.stock.size_mm = {420, 130, 18};
    job.setups[0].zero_mm = {0, 0, 18};
    provecut::Setup back = job.setups[0];
    back.flip = Flip::left_right;
    job.setups.push_back(back);
  }
  // Round about with the 6 mm flat cutter, to a depth below the top; `left_out`: as wide as the cutter's path leaves
  // it.
  void bore(WorkPoint2 at, double diameter, double depth) {
    const double r = diameter / 2 - 3;
    const auto line = [&](WorkPoint from, WorkPoint to) {
      Motion m;
      m.kind = MotionKind::feed;
      m.tool = 1;
      m.start = from;
      m.end = to;
      front.motions.push_back(m);
    };
    line({at.x + r, at.y, 5}, {at.x + r, at.y, -depth});
    if (r <= 0) return;
    Motion turn;
    turn.kind = MotionKind::arc_ccw;
    turn.tool = 1;
    turn.start = turn.end = {at.x + r, at.y, -depth};
    turn.centre = at;
    front.motions.push_back(turn);
    line({at.x + r, at.y, -depth}, {at.x, at.y, -depth});  // its middle too
    line({at.x, at.y, -depth}, {at.x, at.y, 5});
  }
  void pin(SetupPoint2 at, double diameter, double depth) {
    HoldDown h;
    h.kind = HoldDownKind::pin;
    h.name = "pin";
    h.at_mm = at;
    h.diameter_mm = diameter;
    h.depth_in_stock_mm = depth;
    const int index = static_cast<int>(job.hold_downs.size());
    job.hold_downs.push_back(h);
    job.setups[1].programs[0].hold_downs.push_back(index);
  }
  Run look() const {
    Run run;
    const std::vector<Program> programs{front, Program{}};
    holes::observePins(job, programs, run);
    return run;
  }
};

TEST(PinFit, pins_in_mirrored_holes_have_the_play_that_was_bored) {
  Board b;
  b.bore({60, 40}, 8.1, 13);
  b.bore({360, 40}, 8.1, 13);
  b.pin({60, 40}, 8, 12);
  b.pin({360, 40}, 8, 12);
  const auto run = b.look();
  ASSERT_EQ(run.pin_fits.size(), 2u);
  for (const PinFit& fit : run.pin_fits) {
    EXPECT_EQ(fit.program, 1);
    EXPECT_NEAR(fit.wall_mm, 4.05, 0.003);
    EXPECT_NEAR(fit.along_mm, 8.1, 0.005);
    EXPECT_NEAR(fit.across_mm, 8.1, 0.005);
    EXPECT_EQ(fit.free_depth_mm, 12);
  }
  EXPECT_TRUE(run.pins_shifted.empty());
  EXPECT_TRUE(run.pins_either_way.empty());  // off the middle line: y 40 of 130
}

TEST(PinFit, pins_that_are_no_mirror_image_shift_the_stock_by_their_sum_less_its_width) {
  Board b;
  for (const double x : {60.0, 372.0}) b.bore({x, 40}, 8.1, 13);
  b.pin({60, 40}, 8, 12);
  b.pin({372, 40}, 8, 12);
  const auto run = b.look();
  ASSERT_EQ(run.pin_fits.size(), 2u);
  EXPECT_EQ(run.pin_fits[0].wall_mm, 0);
  ASSERT_EQ(run.pins_shifted.size(), 1u);
  EXPECT_NEAR(run.pins_shifted[0].shift.x, 60 + 372 - 420, 1e-6);
  EXPECT_NEAR(run.pins_shifted[0].shift.y, 0, 1e-6);
}

TEST(PinFit, pins_on_the_middle_line_that_only_fit_the_other_flip_tell_it) {
  Board b;
  for (const double x : {60.0, 372.0}) b.bore({x, 65}, 8.1, 13);
  b.pin({60, 65}, 8, 12);
  b.pin({372, 65}, 8, 12);
  const auto run = b.look();
  ASSERT_EQ(run.pins_flipped.size(), 1u);
  EXPECT_EQ(run.pins_flipped[0].flip, Flip::front_back);
  EXPECT_EQ(run.pins_flipped[0].rotate_deg, 0);
}

TEST(PinFit, pins_off_the_middle_line_or_that_fit_tell_no_other_flip) {
  Board off;
  for (const double x : {60.0, 372.0}) off.bore({x, 64.5}, 8.1, 13);
  off.pin({60, 64.5}, 8, 12);
  off.pin({372, 64.5}, 8, 12);
  EXPECT_TRUE(off.look().pins_flipped.empty());
  Board fits;
  for (const double x : {60.0, 360.0}) fits.bore({x, 65}, 8.1, 13);
  fits.pin({60, 65}, 8, 12);
  fits.pin({360, 65}, 8, 12);
  EXPECT_TRUE(fits.look().pins_flipped.empty());
}

TEST(PinFit, where_the_holes_do_not_match_the_pins_at_all_nothing_is_shifted) {
  Board b;
  b.bore({60, 40}, 8.1, 13);
  b.bore({360, 44}, 8.1, 13);
  b.pin({60, 40}, 8, 12);
  b.pin({360, 40}, 8, 12);
  const auto run = b.look();
  EXPECT_TRUE(run.pins_shifted.empty());
  EXPECT_NEAR(run.pin_fits.at(0).wall_mm, 0.05,
              0.01);  // the pin at 60 meets the hole from 360, 4 too far back: 4.05 - 4
  EXPECT_NEAR(run.pin_fits[1].wall_mm, 4.05, 0.003);
}

TEST(PinFit, a_pin_longer_than_its_hole_stands_on_its_ground) {
  Board b;
  b.bore({60, 40}, 8.1, 10);
  b.pin({360, 40}, 8, 12);
  const auto run = b.look();
  ASSERT_EQ(run.pin_fits.size(), 1u);
  EXPECT_EQ(run.pin_fits[0].wall_mm, 0);
  EXPECT_NEAR(run.pin_fits[0].free_depth_mm, 10, 0.01);
}

TEST(PinFit, a_hole_off_to_one_side_leaves_less_there) {
  Board b;
  b.bore({60.03, 40}, 8.1, 13);
  b.pin({360, 40}, 8, 12);
  EXPECT_NEAR(b.look().pin_fits.at(0).wall_mm, 4.02, 0.003);
}

TEST(PinFit, a_slot_is_wide_one_way_only) {
  Board b;
  b.bore({60, 40}, 8.1, 13);
  for (double x = 356; x <= 364; x += 0.25) b.bore({x, 40}, 8.1, 13);
  b.pin({60, 40}, 8, 12);
  b.pin({360, 40}, 8, 12);
  const auto run = b.look();
  ASSERT_EQ(run.pin_fits.size(), 2u);
  EXPECT_NEAR(run.pin_fits[0].along_mm, 8.1 + 8, 0.01);
  EXPECT_NEAR(run.pin_fits[0].across_mm, 8.1, 0.01);
  EXPECT_NEAR(run.pin_fits[1].along_mm, 8.1, 0.01);
}

TEST(PinFit, pins_on_the_middle_line_take_the_stock_half_round_too) {
  Board b;
  b.bore({60, 65}, 8.1, 13);
  b.bore({360, 65}, 8.1, 13);
  b.pin({60, 65}, 8, 12);
  b.pin({360, 65}, 8, 12);
  const auto run = b.look();
  ASSERT_EQ(run.pins_either_way.size(), 1u);
  EXPECT_EQ(run.pins_either_way[0].turned_deg, 180);
}

TEST(PinFit, two_diameters_go_one_way_only) {
  Board b;
  b.bore({60, 65}, 8.1, 13);
  b.bore({360, 65}, 10.1, 13);
  b.pin({360, 65}, 8, 12);
  b.pin({60, 65}, 10, 12);
  const auto run = b.look();
  EXPECT_NEAR(run.pin_fits[1].wall_mm, 5.05, 0.003);
  EXPECT_TRUE(run.pins_either_way.empty());
}

TEST(PinFit, a_pin_beside_the_stock_is_a_fence) {
  Board b;
  b.pin({-4, 40}, 8, 12);
  EXPECT_TRUE(b.look().pin_fits.empty());
}

}  // namespace
}  // namespace provecut
