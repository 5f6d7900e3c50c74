// Whole programs against the hold-downs that stand while they run.
#include <gtest/gtest.h>
#include <oneapi/tbb/global_control.h>

#include <cmath>
#include <random>

#include "tests/sim/clearance/scene.h"

namespace provecut {
namespace {

using namespace scene;

// Stock of 200 × 100 × 20, work zero at its top front-left corner; a screw of 9 mm at (12, 12), 4.5 high.
Job job() {
  Job j;
  j.stock.size_mm = {200, 100, 20};
  j.tools = {flatTool()};
  HoldDown screw = roundOne({12, 12}, 9, 4.5);
  screw.name = "screw SW";
  j.hold_downs = {screw};
  Setup s;
  s.zero_mm = {0, 0, 20};
  s.hold_downs = {0};
  ProgramEntry entry;
  entry.hold_downs = {0};
  s.programs = {entry};
  j.setups = {s};
  return j;
}

struct Seen {
  std::vector<Contact> contacts;
  std::vector<NearPass> near_passes;
};

Seen check(const Job& j, std::vector<Motion> motions) {
  Program p;
  p.motions = std::move(motions);
  Seen s;
  clearance::checkHoldDowns(j, j.setups[0], j.setups[0].programs[0], p, s.contacts, s.near_passes);
  return s;
}

TEST(CheckHoldDowns, tells_move_part_place_and_depth_in_work_coordinates) {
  Job j = job();
  j.setups[0].zero_mm = {10, 5, 20};  // the screw is at (2, 7) in the program's eyes
  const Seen s =
      check(j, {line({50, 50, 5}, {50, 7, 5}), line({50, 7, 5}, {50, 7, -2}), line({50, 7, -2}, {2, 7, -2})});
  ASSERT_EQ(s.contacts.size(), 1u);
  const Contact& c = s.contacts[0];
  EXPECT_EQ(c.move, 2u);
  EXPECT_EQ(c.hold_down, 0);
  EXPECT_EQ(c.part, ToolPart::cutter);
  EXPECT_FALSE(c.plunge);
  EXPECT_NEAR(c.entry.x, 9.5, 2e-6);
  EXPECT_NEAR(c.entry.y, 7, 1e-9);
  EXPECT_NEAR(c.entry.z, -2, 1e-9);
  EXPECT_NEAR(c.overlap_mm, 7.5, 1e-9);
  EXPECT_TRUE(s.near_passes.empty());
}

TEST(CheckHoldDowns, a_pass_just_at_the_wanted_clearance_is_not_near) {
  Job j = job();
  j.limits.clearance_mm = 3;
  const double x = 12 + 4.5 + 3 + 3;
  EXPECT_TRUE(check(j, {line({x, 0, -2}, {x, 40, -2})}).near_passes.empty());
  const Seen s = check(j, {line({x - 0.001, 0, -2}, {x - 0.001, 40, -2})});
  ASSERT_EQ(s.near_passes.size(), 1u);
  EXPECT_NEAR(s.near_passes[0].clearance_mm, 2.999, 1e-9);
  EXPECT_NEAR(s.near_passes[0].at.y, 12, 1e-6);
}

TEST(CheckHoldDowns, a_helix_that_starts_over_a_screw_and_ends_before_it_does_not_hit_it) {
  // Down from Z 20 to Z -2 about (60, 50) with radius 20, from over the screw on: 300° end a chord of 20 mm before it.
  Job j = job();
  const auto onCircle = [](double degrees) {
    const double a = degrees * 3.14159265358979 / 180;
    return WorkPoint2{60 + 20 * std::cos(a), 50 + 20 * std::sin(a)};
  };
  j.hold_downs[0].at_mm = {onCircle(0).x, onCircle(0).y};
  const auto down = [&](double degrees) {
    const WorkPoint2 a = onCircle(0), b = onCircle(degrees);
    return check(j, {arc(MotionKind::arc_ccw, Plane::xy, {a.x, a.y, 20}, {b.x, b.y, -2}, {60, 50})});
  };
  EXPECT_TRUE(down(300).contacts.empty());
  EXPECT_TRUE(down(300).near_passes.empty());
  EXPECT_EQ(down(340).contacts.size(), 1u);  // 7 mm before it
}

TEST(CheckHoldDowns, every_part_that_touches_is_told) {
  Job j = job();
  j.hold_downs[0].top_mm = 90;  // a tall fixture: cutter, shank, nut and spindle all run into it
  const Seen s = check(j, {line({90, 12, 0}, {12, 12, 0}, MotionKind::rapid)});
  ASSERT_EQ(s.contacts.size(), 4u);
  const double radius[] = {3, 4, 15, 32.5};
  for (std::size_t i = 0; i < 4; ++i) {
    EXPECT_EQ(static_cast<std::size_t>(s.contacts[i].part), i);
    EXPECT_NEAR(s.contacts[i].entry.x, 12 + 4.5 + radius[i], 2e-6);
    EXPECT_NEAR(s.contacts[i].overlap_mm, 4.5 + radius[i], 1e-9);
  }
}

TEST(CheckHoldDowns, a_straight_plunge_and_a_steep_one_are_plunges) {
  const Job j = job();
  const Seen s =
      check(j, {line({12, 12, 30}, {12, 12, 0}), line({12, 10, 30}, {12, 12, 0}), line({2, 12, 4}, {12, 12, 0})});
  ASSERT_EQ(s.contacts.size(), 3u);
  EXPECT_TRUE(s.contacts[0].plunge);
  EXPECT_NEAR(s.contacts[0].entry.z, 4.5, 2e-6);
  EXPECT_TRUE(s.contacts[1].plunge);
  EXPECT_FALSE(s.contacts[2].plunge);
}

TEST(CheckHoldDowns, only_what_stands_counts_and_tape_never_does) {
  Job j = job();
  const std::vector<Motion> through{line({40, 12, -1}, {0, 12, -1})};
  EXPECT_EQ(check(j, through).contacts.size(), 1u);
  j.hold_downs[0].kind = HoldDownKind::tape;
  EXPECT_TRUE(check(j, through).contacts.empty());
  j = job();
  j.setups[0].programs[0].hold_downs.clear();
  EXPECT_TRUE(check(j, through).contacts.empty());
}

TEST(CheckHoldDowns, moves_with_an_unknown_tool_and_dwells_are_left_to_others) {
  Motion unknown = line({40, 12, -1}, {0, 12, -1});
  unknown.tool = 7;
  Motion dwell = line({12, 12, -1}, {12, 12, -1}, MotionKind::dwell);
  EXPECT_TRUE(check(job(), {unknown, dwell}).contacts.empty());
  // A tool change in the middle of a batch of moves: only the known tool's move counts.
  const Seen s = check(job(), {unknown, line({40, 12, -1}, {0, 12, -1}), unknown});
  ASSERT_EQ(s.contacts.size(), 1u);
  EXPECT_EQ(s.contacts[0].move, 1u);
}

TEST(CheckHoldDowns, a_turned_stock_has_its_top_where_it_lies) {
  // Rotated by 90 degrees the thickness stays; zero on the underside: the top of the screw is at 24.5 above
  // it.
  Job j = job();
  j.setups[0].rotate_deg = 90;
  j.setups[0].zero_mm = {0, 0, 0};
  EXPECT_TRUE(check(j, {line({40, 12, 24.501}, {0, 12, 24.501})}).contacts.empty());
  EXPECT_EQ(check(j, {line({40, 12, 24.499}, {0, 12, 24.499})}).contacts.size(), 1u);
}

TEST(CheckHoldDowns, a_retract_to_an_unknown_height_is_checked_and_the_way_up_there_is_not) {
  Job j = job();
  j.hold_downs[0].top_mm = 150;  // higher than the travel's top
  Motion up = line({40, 12, -1}, {16, 12, 100}, MotionKind::rapid);
  up.flags = motion_height_unknown | motion_machine_frame;
  EXPECT_EQ(check(j, {up}).contacts.size(), 4u);
  Motion along = line({16, 12, 100}, {0, 12, 100}, MotionKind::rapid);
  along.flags = motion_height_unknown;
  EXPECT_TRUE(check(j, {along}).contacts.empty());
}

TEST(CheckHoldDowns, a_first_rapid_comes_from_nobody_knows_where) {
  Job j = job();
  j.hold_downs[0].at_mm = {3, 3};  // a screw at the work zero
  const auto first = [](Motion m) {
    m.flags = motion_start_unknown;
    return m;
  };
  // G0 Z2, then G0 X100 Y50: nothing is known of the way; where it arrives there is no screw.
  EXPECT_TRUE(check(j, {first(line({0, 0, 100}, {0, 0, 2}, MotionKind::rapid)),
                        first(line({0, 0, 2}, {100, 50, 2}, MotionKind::rapid))})
                  .contacts.empty());
  // It arrives on the screw: a hit, wherever it came from.
  const Seen s = check(j, {first(line({0, 0, 100}, {4, 3, 2}, MotionKind::rapid))});
  ASSERT_EQ(s.contacts.size(), 1u);
  EXPECT_NEAR(s.contacts[0].entry.x, 4, 1e-9);
  // A program that never names Y: along X it is known where it goes.
  const Motion in_x = first(line({0, 0, 100}, {50, 0, 2}, MotionKind::rapid));
  const Motion back = first(line({50, 0, 2}, {-9, 0, 2}, MotionKind::rapid));
  const Seen along = check(j, {in_x, back});
  ASSERT_EQ(along.contacts.size(), 1u);
  EXPECT_EQ(along.contacts[0].move, 1u);
  // After a move home X and Y are lost: a rapid down is anywhere, and so is the way of the next.
  Motion home = line({4, 3, 50}, {4, 3, 100}, MotionKind::rapid);
  home.flags = motion_height_unknown | motion_machine_frame;
  EXPECT_TRUE(check(j, {line({4, 3, 40}, {4, 3, 50}), home, first(line({4, 3, 100}, {4, 3, 2}, MotionKind::rapid)),
                        first(line({4, 3, 2}, {100, 50, 2}, MotionKind::rapid))})
                  .contacts.empty());
  // The program goes down without ever having been sent anywhere: it counts on standing at the work zero.
  EXPECT_EQ(check(j, {first(line({0, 0, 100}, {0, 0, -2}))}).contacts.size(), 1u);
}

TEST(CheckHoldDowns, results_do_not_depend_on_the_number_of_threads) {
  Job j = job();
  j.hold_downs.push_back(box({180, 80}, {30, 12}, 30, 15));
  j.setups[0].programs[0].hold_downs = {0, 1};
  std::mt19937 random(20240607);
  std::uniform_real_distribution<double> x(0, 200), y(0, 100), z(-5, 20);
  std::vector<Motion> motions;
  WorkPoint at{0, 0, 10};
  for (int i = 0; i < 5000; ++i) {
    const WorkPoint next{x(random), y(random), z(random)};
    motions.push_back(line(at, next));
    at = next;
  }
  std::vector<Seen> seen;
  for (const std::size_t threads : {1u, 2u, 8u}) {
    const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, threads);
    seen.push_back(check(j, motions));
  }
  ASSERT_GT(seen[0].contacts.size(), 100u);
  ASSERT_GT(seen[0].near_passes.size(), 100u);
  for (std::size_t i = 1; i < seen.size(); ++i) {
    ASSERT_EQ(seen[i].contacts.size(), seen[0].contacts.size());
    ASSERT_EQ(seen[i].near_passes.size(), seen[0].near_passes.size());
    for (std::size_t k = 0; k < seen[0].contacts.size(); ++k) {
      EXPECT_EQ(seen[i].contacts[k].move, seen[0].contacts[k].move);
      EXPECT_EQ(seen[i].contacts[k].entry, seen[0].contacts[k].entry);
      EXPECT_EQ(seen[i].contacts[k].overlap_mm, seen[0].contacts[k].overlap_mm);
    }
  }
  // Batches and boxes leave nothing out: every move by itself says the same.
  std::vector<Contact> alone;
  for (std::size_t i = 0; i < motions.size(); ++i) {
    for (Contact c : check(j, {motions[i]}).contacts) {
      c.move = static_cast<std::uint32_t>(i);
      alone.push_back(c);
    }
  }
  ASSERT_EQ(alone.size(), seen[0].contacts.size());
  for (std::size_t k = 0; k < alone.size(); ++k) EXPECT_EQ(alone[k].move, seen[0].contacts[k].move);
}

}  // namespace
}  // namespace provecut
