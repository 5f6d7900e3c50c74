// The fewest moves, against a try of all ways to part the programs into stays.
#include "sim/placing/hold_down_plan.h"

#include <gtest/gtest.h>

#include <cstdint>
#include <cstdio>

#include "tests/sim/placing/scene.h"

namespace provecut {
namespace {

using namespace place_scene;

// Programs, each with the set of spots (bits) that are free for it.
int bruteForce(const std::vector<unsigned>& free) {
  const int n = static_cast<int>(free.size());
  int best = n + 1;
  // A bit for each border between two programs: cut there or not.
  for (unsigned borders = 0; borders < (1u << (n - 1)); ++borders) {
    unsigned spots = ~0u;
    int stays = 1;
    bool possible = true;
    for (int i = 0; i < n; ++i) {
      if (i > 0 && (borders >> (i - 1) & 1)) {
        ++stays;
        spots = ~0u;
      }
      spots &= free[static_cast<std::size_t>(i)];
      possible = possible && spots != 0;
    }
    if (possible) best = std::min(best, stays);
  }
  return best;
}

TEST(HoldDownPlan, the_longest_stay_first_gives_the_fewest_moves) {
  const unsigned seed = 99;
  std::printf("seed %u\n", seed);
  std::mt19937 random(seed);
  int with_moves = 0;
  for (int scene = 0; scene < 3000; ++scene) {
    const int n = 1 + static_cast<int>(random() % 9);
    std::vector<unsigned> free;
    for (int i = 0; i < n; ++i) {
      unsigned spots = 0;
      while (spots == 0) spots = static_cast<unsigned>(random()) & static_cast<unsigned>(random()) & 0x1f;
      free.push_back(spots);
    }
    const auto stays = placing::fewestStays(n, [&](int first, int last) {
      unsigned spots = ~0u;
      for (int i = first; i <= last; ++i) spots &= free[static_cast<std::size_t>(i)];
      return spots != 0;
    });
    ASSERT_EQ(static_cast<int>(stays.size()), bruteForce(free));
    with_moves += stays.size() > 1;
  }
  EXPECT_GT(with_moves, 1000);
}

TEST(HoldDownPlan, where_no_place_is_free_it_is_left_out_for_that_program_alone) {
  const std::vector<unsigned> free{1, 1, 0, 1, 3};
  const auto stays = placing::fewestStays(5, [&](int first, int last) {
    unsigned spots = ~0u;
    for (int i = first; i <= last; ++i) spots &= free[static_cast<std::size_t>(i)];
    return spots != 0;
  });
  ASSERT_EQ(stays.size(), 3u);
  EXPECT_FALSE(stays[1].possible);
  EXPECT_EQ(stays[1].first, 2);
  EXPECT_EQ(stays[1].last, 2);
  EXPECT_EQ(stays[2].first, 3);
}

// A groove along y over the whole stock and beyond.
Program groove(double x) {
  return programOf({feed({x, -60, -3}, {x, 260, -3})});
}

Job jobOf(std::size_t programs, SetupPoint2 at) {
  Job job = plainJob();
  HoldDown h = roundForm(9, 4.5);
  h.at_mm = at;
  job.hold_downs = {h};
  ProgramEntry entry;
  entry.hold_downs = {0};
  job.setups[0].programs.assign(programs, entry);
  return job;
}

TEST(HoldDownPlan, what_is_clear_stays_where_the_job_has_it) {
  const auto plan =
      placing::planHoldDowns(jobOf(3, {100, 100}), std::vector<Program>{groove(50), groove(150), groove(60)});
  ASSERT_EQ(plan.size(), 1u);
  EXPECT_FALSE(plan[0].moved);
  EXPECT_EQ(plan[0].first, 0);
  EXPECT_EQ(plan[0].last, 2);
}

TEST(HoldDownPlan, one_place_for_all_is_better_than_two) {
  // Clear at home for the first program only; one place serves both.
  const auto plan = placing::planHoldDowns(jobOf(2, {100, 100}), std::vector<Program>{groove(50), groove(104)});
  ASSERT_EQ(plan.size(), 1u);
  EXPECT_TRUE(plan[0].moved);
  EXPECT_NEAR(plan[0].at->x, 93.5, 1e-9);  // 10.5 from 104
}

TEST(HoldDownPlan, programs_that_together_leave_no_place_take_two) {
  // The first cuts all but the left 60, the second all but the right 60.
  std::vector<Motion> right, left;
  for (double x = 70; x < 320; x += 4) right.push_back(feed({x, -60, -1}, {x, 260, -1}));
  for (double x = -10; x < 240; x += 4) left.push_back(feed({x, -60, -1}, {x, 260, -1}));
  const Job job = jobOf(3, {40, 100});
  const auto plan =
      placing::planHoldDowns(job, std::vector<Program>{programOf(right), programOf(right), programOf(left)});
  ASSERT_EQ(plan.size(), 2u);
  EXPECT_FALSE(plan[0].moved);
  EXPECT_EQ(plan[0].last, 1);
  EXPECT_TRUE(plan[1].moved);
  // The way there is longer than 150 mm, but nothing else would hold the stock.
  ASSERT_TRUE(plan[1].at.has_value());
  EXPECT_GT(plan[1].at->x, 240);
  EXPECT_TRUE(placing::unheldPrograms(job, plan).empty());
  const auto near = placing::planHoldDowns(jobOf(3, {59, 100}),
                                           std::vector<Program>{programOf(right), programOf(right), programOf(left)});
  EXPECT_EQ(near.size(), 2u);
}

TEST(HoldDownPlan, what_is_too_far_away_is_left_out_where_another_one_holds) {
  std::vector<Motion> left;
  for (double x = -10; x < 240; x += 4) left.push_back(feed({x, -60, -1}, {x, 260, -1}));
  Job job = jobOf(1, {40, 100});
  HoldDown second = job.hold_downs[0];
  second.at_mm = {280, 100};
  job.hold_downs.push_back(second);
  job.setups[0].programs[0].hold_downs = {0, 1};
  const auto plan = placing::planHoldDowns(job, std::vector<Program>{programOf(left)});
  ASSERT_EQ(plan.size(), 2u);
  EXPECT_FALSE(plan[0].at.has_value());
  EXPECT_TRUE(plan[1].at.has_value());
}

TEST(HoldDownPlan, where_no_spot_is_free_for_any_it_says_that_nothing_holds) {
  std::vector<Motion> all;
  for (double x = -10; x < 320; x += 4) all.push_back(feed({x, -60, -1}, {x, 260, -1}));
  const Job job = jobOf(1, {40, 100});
  const auto plan = placing::planHoldDowns(job, std::vector<Program>{programOf(all)});
  EXPECT_EQ(placing::unheldPrograms(job, plan), std::vector<int>{0});
  // Tape under the stock is in no move's way.
  Job taped = job;
  HoldDown tape = boxForm({50, 50}, 0, 0);
  tape.kind = HoldDownKind::tape;
  tape.at_mm = {150, 100};
  taped.hold_downs.push_back(tape);
  taped.setups[0].programs[0].hold_downs = {0, 1};
  EXPECT_TRUE(
      placing::unheldPrograms(taped, placing::planHoldDowns(taped, std::vector<Program>{programOf(all)})).empty());
}

TEST(HoldDownPlan, two_that_must_move_do_not_meet) {
  Job job = jobOf(1, {100, 100});
  HoldDown second = job.hold_downs[0];
  second.at_mm = {104, 100};
  job.hold_downs.push_back(second);
  job.setups[0].programs[0].hold_downs = {0, 1};
  const auto plan = placing::planHoldDowns(job, std::vector<Program>{groove(101)});
  ASSERT_EQ(plan.size(), 2u);
  ASSERT_TRUE(plan[0].at && plan[1].at);
  EXPECT_GE(length(*plan[0].at - *plan[1].at), 9 - 1e-9);
}

}  // namespace
}  // namespace provecut
