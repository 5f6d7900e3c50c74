// The nearest free spot against plane geometry, and against a look at every spot around.
#include "sim/placing/free_spot.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

#include "sim/path/cut_round.h"
#include "tests/sim/placing/scene.h"

namespace provecut {
namespace {

using namespace place_scene;

Job jobWith(HoldDown h, SetupPoint2 at) {
  Job job = plainJob();
  h.at_mm = at;
  job.hold_downs = {h};
  job.setups[0].programs[0].hold_downs = {0};
  return job;
}

TEST(FreeSpot, a_screw_beside_a_slanting_cut_moves_square_to_it) {
  // Cutter 3, clearance 3, head 4.5: 10.5 from the line y = x, where the screw stands 2 · sqrt(2) from it.
  const Job job = jobWith(roundForm(9, 4.5), {102, 98});
  const auto at = placing::nearestFreeSpot(job, std::vector<Program>{programOf({feed({20, 20, -3}, {180, 180, -3})})},
                                           {0, 0, {0}, {}, 0.1});
  ASSERT_TRUE(at);
  EXPECT_GE((at->x - at->y) / std::sqrt(2.0), 10.5 - 1e-6);
  const double away = length(*at - SetupPoint2{102, 98});
  EXPECT_GE(away, 10.5 - 2 * std::sqrt(2.0) - 1e-6);
  EXPECT_LE(away, 10.5 - 2 * std::sqrt(2.0) + 0.15);  // a step of 0.1 in x and y
}

TEST(FreeSpot, one_that_is_clear_stays) {
  const Job job = jobWith(roundForm(9, 4.5), {150, 50});
  EXPECT_EQ(*placing::nearestFreeSpot(job, std::vector<Program>{programOf({feed({20, 120, -3}, {180, 120, -3})})},
                                      {0, 0, {0}, {}, 0.1}),
            (SetupPoint2{150, 50}));
}

TEST(FreeSpot, a_screw_does_not_go_into_the_part) {
  const std::vector<Program> round{programOf({feed({97, 47, -5}, {203, 47, -5}), feed({203, 47, -5}, {203, 153, -5}),
                                              feed({203, 153, -5}, {97, 153, -5}), feed({97, 153, -5}, {97, 47, -5})})};
  // 3 inside the path: in, it would be 7.5 to 107.5; out, it is 13.5 to 86.5.
  const auto at = placing::nearestFreeSpot(jobWith(roundForm(9, 4.5), {92, 100}), round, {0, 0, {0}, {}, 0.1});
  ASSERT_TRUE(at);
  EXPECT_NEAR(at->x, 86.5, 1e-9);
  // A clamp leaves no hole and may.
  HoldDown block = roundForm(9, 4.5);
  block.kind = HoldDownKind::other;
  EXPECT_NEAR(placing::nearestFreeSpot(jobWith(block, {99, 100}), round, {0, 0, {0}, {}, 0.1})->x, 107.5, 1e-9);
}

TEST(FreeSpot, a_screw_too_near_the_edge_is_brought_in_where_that_is_free) {
  // Shaft 4: 20 from the edge. It stands 10 from the left edge, 8 from a cut along Y that keeps it 10.5 away; along its
  // own edge it would be clear 2.5 to the left, too near still. On the cut's other side it is clear at 28.5.
  Job job = jobWith(roundForm(9, 4.5), {10, 100});
  job.hold_downs[0].shaft_diameter_mm = 4;
  const std::vector<Program> groove{programOf({feed({18, 20, -3}, {18, 180, -3})})};
  EXPECT_NEAR(placing::nearestFreeSpot(job, groove, {0, 0, {0}, {}, 0.1})->x, 28.5, 1e-6);
  // Nothing is free farther in: then as near to the edge as it was, past the end of the cut.
  std::vector<Motion> all;
  for (int x = 18; x < 200; x += 5) all.push_back(feed({double(x), 20, -3}, {double(x), 180, -3}));
  job.hold_downs[0].at_mm = {10, 30};
  const auto at = placing::nearestFreeSpot(job, std::vector<Program>{programOf(all)}, {0, 0, {0}, {}, 0.1});
  ASSERT_TRUE(at);
  EXPECT_GE(std::min(at->x, at->y), 10 - 1e-6);
  EXPECT_LT(std::min(at->x, at->y), 20);
}

// It holds a toggle or a fence; no edge of the stock splits on it.
TEST(FreeSpot, a_screw_beside_the_stock_moves_out_from_it) {
  // Left of the stock's edge, 8 from a cut along Y at X 2: clear at 10.5, at X -8.5.
  Job job = jobWith(roundForm(9, 4.5), {-6, 100});
  job.hold_downs[0].shaft_diameter_mm = 4;
  const std::vector<Program> along{programOf({feed({2, 0, -3}, {2, 200, -3})})};
  const auto at = placing::nearestFreeSpot(job, along, {0, 0, {0}, {}, 0.1});
  ASSERT_TRUE(at);
  EXPECT_NEAR(at->x, -8.5, 1e-9);
  EXPECT_NEAR(at->y, 100, 1e-9);
}

// The same distances as the check of edges: 5 shafts from a side, 7 from an end of the grain.
TEST(FreeSpot, a_screw_keeps_seven_shafts_from_the_end_of_the_grain) {
  Job job = jobWith(roundForm(9, 4.5), {34, 100});
  job.hold_downs[0].shaft_diameter_mm = 4;
  job.stock.material = Material::hardwood;
  job.stock.material_given = true;
  const std::vector<Program> groove{programOf({feed({35, 20, -3}, {35, 180, -3})})};
  const auto spot = [&] { return *placing::nearestFreeSpot(job, groove, {0, 0, {0}, {}, 0.1}); };
  EXPECT_NEAR(spot().x, 24.5, 1e-9);  // 20 are enough
  job.stock.grain = Grain::x;
  EXPECT_NEAR(spot().x, 45.5, 1e-9);  // 28 are wanted
  job.stock.material = Material::mdf;
  EXPECT_NEAR(spot().x, 24.5, 1e-9);  // no grain to split along
}

TEST(FreeSpot, it_keeps_off_the_others_and_on_the_stock) {
  Job job = jobWith(roundForm(9, 4.5), {12, 50});
  HoldDown other = boxForm({20, 20}, 0, 4.5);
  other.at_mm = {36, 50};
  const std::vector<Program> groove{programOf({feed({20, -60, -3}, {20, 260, -3})})};
  EXPECT_EQ(*placing::nearestFreeSpot(job, groove, {0, 0, {0}, {other}, 0.1}), (SetupPoint2{12 - 2.5, 50}));
  job.hold_downs[0].at_mm = {6, 50};
  const std::vector<Program> nearer{programOf({feed({14, -60, -3}, {14, 260, -3})})};
  const auto at = placing::nearestFreeSpot(job, nearer, {0, 0, {0}, {}, 0.1});
  EXPECT_NEAR(at->x, 24.5, 1e-9);  // 3.5 would be over the edge
}

TEST(FreeSpot, where_all_is_cut_there_is_none) {
  std::vector<Motion> all;
  for (int y = -20; y < 220; y += 4) all.push_back(feed({-5, 1.0 * y, -1}, {305, 1.0 * y, -1}));
  EXPECT_FALSE(placing::nearestFreeSpot(jobWith(roundForm(9, 4.5), {150, 100}), std::vector<Program>{programOf(all)},
                                        {0, 0, {0}, {}, 0.1}));
}

// An open run of cuts that turns three quarters of the way round a place makes a part of it, though no cut closes it.
TEST(FreeSpot, a_screw_does_not_go_into_a_part_that_is_cut_on_three_sides) {
  Job job = jobWith(roundForm(16, 3), {67, 40});
  job.stock.size_mm = {120, 80, 10};
  job.setups[0].zero_mm = {0, 0, 10};
  job.tools[0].diameter_mm = 4;
  job.limits.clearance_mm = 1;
  const Program sides =
      programOf({feed({80, 20, -2}, {40, 20, -2}), feed({40, 20, -2}, {40, 60, -2}), feed({40, 60, -2}, {80, 60, -2}),
                 feed({70, 25, -2}, {70, 55, -2}), feed({74, 25, -2}, {74, 55, -2})});
  const auto inPart = [&](SetupPoint2 p) { return cutGoesRound(job, job.setups[0], sides, {p.x, p.y}); };
  ASSERT_FALSE(inPart({67, 40}));
  ASSERT_TRUE(inPart({59, 40}));  // where the head would be clear of the lines at X 70 and X 74
  const auto at = placing::nearestFreeSpot(job, std::vector<Program>{sides}, {0, 0, {0}, {}, 0.1});
  ASSERT_TRUE(at);
  EXPECT_FALSE(inPart(*at)) << at->x << " " << at->y;
}

TEST(CutRound, only_cuts_below_the_top_of_the_stock_go_round_a_place) {
  const Job job = plainJob();
  const auto round = [&](MotionKind kind, double z) {
    std::vector<Motion> square{feed({80, 80, z}, {120, 80, z}), feed({120, 80, z}, {120, 120, z}),
                               feed({120, 120, z}, {80, 120, z}), feed({80, 120, z}, {80, 80, z})};
    for (Motion& m : square) m.kind = kind;
    return cutGoesRound(job, job.setups[0], programOf(square), {100, 100});
  };
  EXPECT_TRUE(round(MotionKind::feed, -2));
  EXPECT_FALSE(round(MotionKind::feed, 1));
  EXPECT_FALSE(round(MotionKind::rapid, -2));
}

TEST(CutRound, what_is_told_for_a_disc_holds_for_every_place_in_it) {
  const unsigned seed = 2024;
  std::printf("seed %u\n", seed);
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> place(80, 120), radius(0, 6), unit(0, 1);
  const Job job = plainJob();
  int none = 0, all = 0;
  for (int i = 0; i < 4000; ++i) {
    // A walk that turns mostly one way, now and then with a rapid or a step aside.
    std::vector<Motion> walk;
    WorkPoint from{place(random), place(random), -2};
    double heading = 6.28 * unit(random);
    for (int k = 0; k < 14; ++k) {
      heading += unit(random) < 0.9 ? 0.3 + 0.5 * unit(random) : -0.7;
      const double far = 4 + 12 * unit(random);
      const WorkPoint to{from.x + far * std::cos(heading), from.y + far * std::sin(heading), -2};
      walk.push_back(feed(from, to));
      if (unit(random) < 0.04) walk.back().kind = MotionKind::rapid;
      from = unit(random) < 0.02 ? WorkPoint{to.x + 3, to.y, -2} : to;
    }
    const Program program = programOf(walk);
    const SetupPoint2 middle{place(random), place(random)};
    const double within_mm = i % 4 == 0 ? 0 : radius(random);
    const GoesRound told = cutGoesRoundAll(cutRuns(job, job.setups[0], program, job.setups[0]), middle, within_mm);
    EXPECT_FALSE(within_mm == 0 && told == GoesRound::unknown);
    if (told == GoesRound::unknown) continue;
    (told == GoesRound::all ? all : none) += 1;
    for (int k = 0; k < 40; ++k) {
      const double away = within_mm * (k < 20 ? 1 : unit(random)), at = 6.2832 * k / 20;
      const SetupPoint2 p = middle + Vec2{away * std::cos(at), away * std::sin(at)};
      ASSERT_EQ(cutGoesRound(job, job.setups[0], program, {p.x, p.y}), told == GoesRound::all) << "walk " << i;
    }
  }
  EXPECT_GT(none, 500);
  EXPECT_GT(all, 100);
  std::printf("%d discs in no part, %d in one\n", none, all);
}

TEST(FreeSpot, a_spot_is_clear_as_it_is_written_to_a_tenth) {
  Job job = jobWith(roundForm(8, 4.5), {50, 27.004});
  const std::vector<Program> groove{programOf({feed({10, 20.003, -3}, {90, 20.003, -3})})};
  const placing::SpotSearch search{0, 0, {0}, {}, 0.1};
  const auto at = placing::nearestFreeSpot(job, groove, search);
  ASSERT_TRUE(at);
  const SetupPoint2 written{std::round(at->x * 10) / 10, std::round(at->y * 10) / 10};
  EXPECT_LE(length(*at - written), 1e-9);
  EXPECT_TRUE(placing::isClearAt(job, groove, search, written));
}

TEST(FreeSpot, a_clamp_moves_but_keeps_a_grip_of_5_mm) {
  // It reaches 10 mm over the front edge; straight back from the cut it would hold by a hair.
  const Job job = jobWith(boxForm({30, 60}, 0, 10), {50, -20});
  const std::vector<Program> groove{programOf({feed({10, 6.15, -3}, {90, 6.15, -3})})};
  const auto at = placing::nearestFreeSpot(job, groove, {0, 0, {0}, {}, 0.1});
  ASSERT_TRUE(at);
  EXPECT_GE(at->y + 30, 5 - 1e-9);
}

TEST(FreeSpot, a_clamp_on_any_edge_keeps_its_grip) {
  // Stock 300 x 200: the cut runs along the back edge as close as it does in front above.
  const Job job = jobWith(boxForm({30, 60}, 0, 10), {50, 220});
  const std::vector<Program> groove{programOf({feed({10, 193.85, -3}, {90, 193.85, -3})})};
  const auto at = placing::nearestFreeSpot(job, groove, {0, 0, {0}, {}, 0.1});
  ASSERT_TRUE(at);
  EXPECT_LE(at->y - 30, 200 - 5 + 1e-9);
  EXPECT_GT(length(*at - SetupPoint2{50, 220}), 1);
}

TEST(FreeSpot, no_nearer_spot_is_free_in_random_programs) {
  const unsigned seed = 4711;
  std::printf("seed %u\n", seed);
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> x(60, 240), y(50, 150);
  int moved = 0;
  for (int i = 0; i < 12; ++i) {
    HoldDown h = i % 2 == 0 ? roundForm(12, 3) : boxForm({30, 15}, 20, 3);
    h.kind = HoldDownKind::other;
    const Job job = jobWith(h, {std::round(x(random)), std::round(y(random))});
    const std::vector<Program> programs{randomProgram(random, 14)};
    const placing::SpotSearch search{0, 0, {0}, {}, 1};  // steps of 1 mm, so that all around can be tried
    const SetupPoint2 home = job.hold_downs[0].at_mm;
    const auto at = placing::nearestFreeSpot(job, programs, search);
    if (!at) continue;
    EXPECT_TRUE(placing::isClearAt(job, programs, search, *at));
    const double away = length(*at - home);
    moved += away > 0;
    for (int dy = -30; dy <= 30; ++dy) {
      for (int dx = -30; dx <= 30; ++dx) {
        if (std::hypot(dx, dy) >= away - 1e-9 || std::hypot(dx, dy) > 30) continue;
        EXPECT_FALSE(placing::isClearAt(job, programs, search, home + Vec2{1.0 * dx, 1.0 * dy}))
            << dx << ", " << dy << " of " << away;
      }
    }
  }
  EXPECT_GT(moved, 2);
}

}  // namespace
}  // namespace provecut
