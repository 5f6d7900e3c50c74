// Where to shift a hold-down that is in the way. Every shift is applied to the job, which is then checked
// again.
#include "sim/placing/hold_down_shift.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "sim/clearance/clearance.h"
#include "tests/sim/clearance/scene.h"

namespace provecut {
namespace {

using namespace scene;

// Stock of 300 × 200 × 20, one setup with work zero at its top front-left corner, clearance 3.
Job jobWith(std::vector<HoldDown> hold_downs, int programs = 1) {
  Job j;
  j.stock.size_mm = {300, 200, 20};
  j.tools = {flatTool()};
  j.hold_downs = std::move(hold_downs);
  Setup s;
  s.zero_mm = {0, 0, 20};
  for (std::size_t i = 0; i < j.hold_downs.size(); ++i) s.hold_downs.push_back(static_cast<int>(i));
  ProgramEntry entry;
  entry.hold_downs = s.hold_downs;
  s.programs.assign(static_cast<std::size_t>(programs), entry);
  j.setups = {s};
  return j;
}

Program programOf(std::vector<Motion> motions) {
  Program p;
  p.motions = std::move(motions);
  return p;
}

std::vector<ProgramRun> runsOf(const Job& j, const std::vector<Program>& programs) {
  std::vector<ProgramRun> runs;
  std::size_t next = 0;
  for (std::size_t s = 0; s < j.setups.size(); ++s) {
    for (std::size_t e = 0; e < j.setups[s].programs.size(); ++e, ++next) {
      runs.emplace_back();
      runs.back().setup = static_cast<int>(s);
      runs.back().entry = static_cast<int>(e);
      clearance::checkHoldDowns(j, j.setups[s], j.setups[s].programs[e], programs[next], runs.back().contacts,
                                runs.back().near_passes);
    }
  }
  return runs;
}

bool inTheWay(const Job& j, const std::vector<Program>& programs, int hold_down) {
  for (const ProgramRun& r : runsOf(j, programs)) {
    for (const Contact& c : r.contacts) {
      if (c.hold_down == hold_down) return true;
    }
    for (const NearPass& n : r.near_passes) {
      if (n.hold_down == hold_down) return true;
    }
  }
  return false;
}

Job after(Job j, const Escape& e, double distance) {
  HoldDown& h = j.hold_downs[static_cast<std::size_t>(e.hold_down)];
  h = moved(h, e.direction.vec() * distance);
  return j;
}

// All shifts, each of them tried out.
std::vector<Escape> shifts(const Job& j, const std::vector<Program>& programs) {
  const std::vector<ProgramRun> runs = runsOf(j, programs);
  const std::vector<Escape> escapes = placing::holdDownShifts(j, programs, runs);
  for (const Escape& e : escapes) EXPECT_FALSE(inTheWay(after(j, e, e.distance_mm), programs, e.hold_down));
  return escapes;
}

double along(const std::vector<Escape>& escapes, SetupDirection2 direction, int hold_down = 0) {
  for (const Escape& e : escapes) {
    if (e.direction == direction && e.hold_down == hold_down) return e.distance_mm;
  }
  return INFINITY;
}

constexpr SetupDirection2 left{-1, 0}, right{1, 0}, front{0, -1}, back{0, 1};

HoldDown clamp(SetupPoint2 at, Vec2 size, double top) {
  HoldDown h = box(at, size, 0, top);
  h.kind = HoldDownKind::clamp;
  return h;
}

TEST(HoldDownShift, a_screw_beside_a_cut_moves_just_out_of_its_clearance) {
  // Axis on x = 20, cutter 3, head 4.5, clearance 3: the centre must be 10.5 from it.
  const Job j = jobWith({roundOne({12, 50}, 9, 4.5)});
  const auto escapes = shifts(j, {programOf({line({20, -20, -3}, {20, 220, -3})})});
  EXPECT_NEAR(along(escapes, left), 2.5, 1e-9);
  EXPECT_NEAR(along(escapes, right), 18.5, 1e-9);
  EXPECT_EQ(along(escapes, front), INFINITY);  // the cut goes on past the stock's edge
  EXPECT_EQ(along(escapes, back), INFINITY);
  ASSERT_EQ(escapes.size(), 2u);
  EXPECT_LT(escapes[0].distance_mm, escapes[1].distance_mm);
}

TEST(HoldDownShift, a_screw_stays_wholly_on_the_stock) {
  // 2.5 to the left would leave the head across the edge at x = 0.
  const Job j = jobWith({roundOne({6, 50}, 9, 4.5)});
  const auto escapes = shifts(j, {programOf({line({14, -20, -3}, {14, 220, -3})})});
  EXPECT_EQ(along(escapes, left), INFINITY);
  EXPECT_NEAR(along(escapes, right), 18.5, 1e-9);
}

TEST(HoldDownShift, a_clamp_slides_along_the_edge_that_it_holds) {
  // The nut passes 2 above the clamp's end, along y = 12; only along the edge it gets away.
  const Job j = jobWith({clamp({150, -10}, {30, 60}, 35)});
  const auto escapes = shifts(j, {programOf({line({140, 12, -3}, {170, 12, -3})})});
  // It must end 3 + 3 beside the cutter at either end; shank 4 and nut 15 are wider where they meet it (h =
  // 38 up to 40 where the nut begins): shank 4 + 3; the nut is 2 above its top, so its edge may come within
  // sqrt(9 - 4).
  const double beside = std::max(4 + 3.0, 15 + std::sqrt(5.0));
  EXPECT_NEAR(along(escapes, left), std::ceil((165 - (140 - beside)) * 10) / 10, 1e-9);
  EXPECT_NEAR(along(escapes, right), std::ceil((170 + beside - 135) * 10) / 10, 1e-9);
  // To the front it would leave the stock before it is clear.
  EXPECT_EQ(along(escapes, front), INFINITY);
  EXPECT_EQ(along(escapes, back), INFINITY);
}

TEST(HoldDownShift, a_screw_does_not_move_into_the_part_that_is_cut_out) {
  // A profile round (100,50) to (200,150), its path 3 outside; the screw stands at its left, in the margin.
  const std::vector<Motion> round{line({97, 47, -15}, {203, 47, -15}), line({203, 47, -15}, {203, 153, -15}),
                                  line({203, 153, -15}, {97, 153, -15}), line({97, 153, -15}, {97, 47, -15})};
  const Job j = jobWith({roundOne({92, 100}, 9, 4.5)});
  const auto escapes = shifts(j, {programOf(round)});
  EXPECT_NEAR(along(escapes, left), 5.5, 1e-9);
  // Not to x = 107.5 inside it, but right through: x = 203 + 10.5.
  EXPECT_NEAR(along(escapes, right), 213.5 - 92, 1e-9);
  // A clamp makes no hole in it and may stand on the part.
  HoldDown block = j.hold_downs[0];
  block.kind = HoldDownKind::other;
  EXPECT_NEAR(along(shifts(jobWith({block}), {programOf(round)}), right), 107.5 - 92, 1e-9);
}

TEST(HoldDownShift, nor_into_a_part_that_another_setup_cuts_out) {
  // The profile is cut from the back, left-right: its x runs the other way, from 300 - 203 to 300 - 97.
  const std::vector<Motion> round{arc(MotionKind::arc_cw, Plane::xy, {100, 100, -20}, {100, 100, -20}, {150, 100})};
  Job j = jobWith({roundOne({92, 100}, 9, 4.5)});
  provecut::Setup back_side = j.setups[0];
  back_side.flip = Flip::left_right;
  back_side.hold_downs.clear();
  back_side.programs[0].hold_downs.clear();
  j.setups.push_back(back_side);
  // In the front a single straight groove passes the screw.
  const Program groove = programOf({line({99, 0, -3}, {99, 200, -3})});
  const auto escapes = shifts(j, {groove, programOf(round)});
  EXPECT_NEAR(along(escapes, left), 3.5, 1e-9);
  // 109.5 would be inside the circle of radius 50 about (150, 100): on through it to x = 200.
  EXPECT_GE(along(escapes, right), 200 - 92.0);
  EXPECT_LE(along(escapes, right), 200 - 92 + 0.1);
}

TEST(HoldDownShift, it_clears_every_program_in_which_it_stands) {
  const Job j = jobWith({roundOne({50, 100}, 9, 4.5)}, 2);
  const Program first = programOf({line({58, 0, -3}, {58, 200, -3})});   // wants x <= 47.5 or >= 68.5
  const Program second = programOf({line({40, 0, -3}, {40, 200, -3})});  // wants x <= 29.5 or >= 50.5
  EXPECT_NEAR(along(shifts(j, {first, second}), left), 20.5, 1e-9);
  EXPECT_NEAR(along(shifts(j, {first, second}), right), 18.5, 1e-9);
}

TEST(HoldDownShift, it_keeps_off_the_others_that_stand_with_it) {
  Job j = jobWith({roundOne({12, 50}, 9, 4.5), box({36, 50}, {20, 20}, 0, 4.5)});
  const std::vector<Program> programs{programOf({line({20, -20, 6}, {20, 220, 6})})};  // both are near, none is hit
  const auto escapes = shifts(j, programs);
  // 1.5 above them, the cutter's edge may come within sqrt(9 - 1.5²) of an edge.
  const double away = 3 + std::sqrt(9 - 2.25);
  EXPECT_NEAR(along(escapes, left), std::ceil((12 + 4.5 + away - 20) * 10) / 10, 1e-9);
  // To the right the block from 26 to 46 is in the way: the head must be clear of it too.
  EXPECT_GE(along(escapes, right), 46 + 4.5 - 12 - 1e-9);
  EXPECT_LE(along(escapes, right), 46 + 4.5 - 12 + 0.1 + 1e-9);
}

TEST(HoldDownShift, pins_tape_and_what_is_not_in_the_way_get_none) {
  Job j = jobWith({roundOne({12, 50}, 9, 4.5), roundOne({250, 100}, 9, 4.5)});
  j.hold_downs[0].kind = HoldDownKind::pin;
  EXPECT_TRUE(shifts(j, {programOf({line({20, -20, -3}, {20, 220, -3})})}).empty());
}

TEST(HoldDownShift, where_no_place_is_clear_there_is_none) {
  std::vector<Motion> everywhere;
  for (int y = 0; y < 200; y += 4) everywhere.push_back(line({-5, 1.0 * y, -1}, {305, 1.0 * y, -1}));
  EXPECT_TRUE(shifts(jobWith({roundOne({12, 50}, 9, 4.5)}), {programOf(everywhere)}).empty());
}

TEST(HoldDownShift, shifts_are_the_smallest_in_random_jobs) {
  const unsigned seed = 5150;
  std::printf("seed %u\n", seed);
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> x(20, 280), y(20, 180), z(-5, 10), turn(0, 90);
  int tried = 0;
  for (int i = 0; i < 60; ++i) {
    Job j = jobWith({box({x(random), y(random)}, {15, 10}, turn(random), 4.5)});
    j.hold_downs[0].kind = HoldDownKind::other;
    std::vector<Motion> motions;
    for (int k = 0; k < 6; ++k)
      motions.push_back(line({x(random), y(random), z(random)}, {x(random), y(random), z(random)}));
    const std::vector<Program> programs{programOf(motions)};
    for (const Escape& e : shifts(j, programs)) {
      ++tried;
      // On the stock every smaller step is in the way.
      for (double d = 0.1; d < e.distance_mm - 0.05; d += 0.1) {
        ASSERT_TRUE(inTheWay(after(j, e, d), programs, 0)) << d << " of " << e.distance_mm;
      }
    }
  }
  EXPECT_GT(tried, 50);
}

TEST(HoldDownShift, in_an_inch_job_the_step_is_a_thousandth_of_an_inch) {
  Job j = jobWith({roundOne({12, 50}, 9, 4.5)});
  j.inches = true;
  const auto escapes = shifts(j, {programOf({line({20, -20, -3}, {20, 220, -3})})});
  EXPECT_NEAR(along(escapes, left), 99 * 0.0254, 1e-9);  // 2.5 / 0.0254 = 98.4
}

}  // namespace
}  // namespace provecut
