// Corners, squares and polygons. A corner of included angle θ bears sqrt(a δ s / (1 - s)), s = sin(θ/2), an arc sqrt(a
// r), and a polygon of N sides L takes 2 t(L; 0 to v) + (N - 2) t(L; v to v). Worked by hand in 40 digits.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "sim/clock/clock.h"
#include "sim/clock/speed_profile.h"
#include "tests/sim/clock/program_maker.h"

namespace provecut {
namespace {

using test::machineOf;
using test::ProgramMaker;
using test::within;

constexpr double degree = std::numbers::pi / 180;

// Two long moves, the second turned so that the angle between them is `included_deg`; the speed in the corner.
double corner(double included_deg, double acceleration, double deviation, double turned_deg = 0) {
  const double turn = (180 - included_deg) * degree;
  const Vec3 before{std::cos(turned_deg * degree), std::sin(turned_deg * degree), 0};
  const Vec3 after{std::cos(turned_deg * degree + turn), std::sin(turned_deg * degree + turn), 0};
  return std::sqrt(clock::cornerSpeed2(before, after, clock::axisLimits(machineOf(acceleration)), deviation));
}

TEST(Corner, the_sharper_the_slower) {
  EXPECT_NEAR(corner(30, 500, 0.01), 1.32135950106,
              within(1.32135950106));  // corner: sqrt(a δ s / (1 - s)), s = sin(θ/2)
  EXPECT_NEAR(corner(60, 500, 0.01), 2.2360679775, within(2.2360679775));
  EXPECT_NEAR(corner(90, 500, 0.01), 3.474344227601, within(3.474344227601));
  EXPECT_NEAR(corner(135, 500, 0.01), 7.790080610797, within(7.790080610797));
  EXPECT_NEAR(corner(170, 500, 0.01), 36.17949959222, within(36.17949959222));
  EXPECT_NEAR(corner(179, 500, 0.01), 362.3645779281, within(362.3645779281));
  EXPECT_NEAR(corner(90, 200, 0.02), 3.10754794806, within(3.10754794806));
  EXPECT_NEAR(corner(120, 1000, 0.05), 17.97790534954, within(17.97790534954));
}

TEST(Corner, straight_on_has_no_limit_and_straight_back_is_a_halt) {
  EXPECT_TRUE(std::isinf(corner(180, 500, 0.01)));  // s = 1
  EXPECT_EQ(corner(0, 500, 0.01), 0);               // s = 0
}

// The arc that rounds a corner, with the centripetal acceleration of each axis sampled along it: the speed where the
// first axis is at its limit.
TEST(Corner, the_weakest_axis_on_the_way_round_sets_the_speed) {
  Machine m = machineOf(500);
  m.acceleration_mm_s2 = {500, 350, 120};
  const clock::AxisLimits axes = clock::axisLimits(m);
  int checked = 0;
  for (int i = 0; i < 12; ++i)
    for (int j = 0; j < 12; ++j)
      for (double z : {-0.6, 0.0, 0.4}) {
        const double p = (30 * i + 7) * degree, q = (30 * j + 20) * degree;
        Vec3 u{std::cos(p), std::sin(p), z}, w{std::cos(q), std::sin(q), -0.5 * z};
        u = u * (1 / length(u));
        w = w * (1 / length(w));
        const double turn = std::acos(dot(u, w));
        const double s = std::cos(turn / 2);
        const double radius = 0.01 * s / (1 - s);
        double least = 1e300;
        for (int k = 0; k <= 20000; ++k) {
          const double a = turn * k / 20000;
          const Vec3 normal = (w * std::cos(a) - u * std::cos(turn - a)) * (1 / std::sin(turn));
          const Vec3& limit = m.acceleration_mm_s2;
          least = std::min(
              {least, limit.x / std::fabs(normal.x), limit.y / std::fabs(normal.y), limit.z / std::fabs(normal.z)});
        }
        EXPECT_NEAR(std::sqrt(clock::cornerSpeed2(u, w, axes, 0.01)), std::sqrt(least * radius),
                    1e-6 * std::sqrt(least * radius));
        ++checked;
      }
  EXPECT_EQ(checked, 432);
}

double squareTime(const Machine& m) {
  return clock::plan(ProgramMaker()
                         .feed({100, 0, 0}, 3000)
                         .feed({100, 100, 0}, 3000)
                         .feed({0, 100, 0}, 3000)
                         .feed({0, 0, 0}, 3000)
                         .program,
                     m)
      .time.total_s();
}

TEST(Square, takes_a_little_more_than_its_length_over_the_feed) {
  EXPECT_NEAR(squareTime(machineOf(500)), 8.359756397406, within(8.359756397406));  // junction deviation 0.01
  Machine stopping = machineOf(500);
  stopping.cornering = Cornering::exact_stop;
  EXPECT_NEAR(squareTime(stopping), 8.4, within(8.4));  // exact stop
}

// A polygon with one acceleration for every direction.
double polygonTime(int sides, double side_mm, double deviation_mm) {
  const double s = std::cos(std::numbers::pi / sides);  // sine of half the included angle
  const double corner2 = 500 * deviation_mm * s / (1 - s);
  std::vector<clock::SpeedStretch> path(static_cast<std::size_t>(sides),
                                        clock::SpeedStretch{side_mm, 50, 500, std::min(corner2, 2500.0)});
  clock::planSpeeds(path);
  double time_s = 0;
  for (std::size_t i = 0; i < path.size(); ++i) {
    const double exit2 = i + 1 < path.size() ? path[i + 1].entry2_mm2_s2 : 0;
    time_s += clock::stretchTime(side_mm, 50, 500, std::sqrt(path[i].entry2_mm2_s2), std::sqrt(exit2));
  }
  return time_s;
}

TEST(Polygon, follows_the_closed_form) {
  EXPECT_NEAR(polygonTime(3, 60, 0.01), 3.88251145618, within(3.88251145618));     // triangle
  EXPECT_NEAR(polygonTime(6, 50, 0.01), 6.492761844688, within(6.492761844688));   // hexagon
  EXPECT_NEAR(polygonTime(12, 10, 0.01), 3.138527147359, within(3.138527147359));  // 12 sides
}

TEST(Polygon, short_sides_are_limited_by_what_the_first_side_lets_it_reach) {
  EXPECT_NEAR(polygonTime(36, 2, 0.02), 1.54, within(1.54));  // corners faster than the feed, one straight of 72
}

// The same from a program, with axes: a side in direction u has min(acceleration_i / |u_i|) and its corners the axes'
// 500, because every corner of these polygons passes an axis direction; the sum is written out over the sides.
TEST(Polygon, a_program_has_each_side_with_its_own_acceleration) {
  for (const auto& [sides, side_mm] : {std::pair{3, 60.0}, {4, 100.0}, {6, 50.0}}) {
    ProgramMaker maker;
    const double s = std::cos(std::numbers::pi / sides);
    const double corner_mm_s = std::sqrt(500 * 0.01 * s / (1 - s));
    double expected = 0;
    WorkPoint at;
    for (int k = 0; k < sides; ++k) {
      const double angle = 2 * std::numbers::pi * k / sides;
      at = at + Vec3{side_mm * std::cos(angle), side_mm * std::sin(angle), 0};
      maker.feed(at, 3000);
      const double a = 500 / std::max(std::fabs(std::cos(angle)), std::fabs(std::sin(angle)));
      const double entry = k == 0 ? 0 : corner_mm_s, exit = k == sides - 1 ? 0 : corner_mm_s;
      // (v - v0)/a + (v - v1)/a + the rest at v
      const double ramps = (2500 - entry * entry) / (2 * a) + (2500 - exit * exit) / (2 * a);
      expected += (50 - entry) / a + (50 - exit) / a + (side_mm - ramps) / 50;
    }
    EXPECT_NEAR(clock::plan(maker.program, machineOf(500)).time.total_s(), expected, within(expected))
        << sides << " sides";
  }
}

TEST(Polygon, with_exact_stop_every_side_is_a_move_of_its_own) {
  ProgramMaker maker;
  for (int k = 1; k <= 36; ++k) maker.feed({k * 2.0, 0, 0}, 3000);
  Machine m = machineOf(500);
  m.cornering = Cornering::exact_stop;
  EXPECT_NEAR(clock::plan(maker.program, m).time.total_s(), 4.553679830642,
              within(4.553679830642));  // 36 sides of 2
}

TEST(Joint, straight_on_with_a_change_of_feed_is_passed_at_the_lower_feed) {
  EXPECT_NEAR(
      clock::plan(ProgramMaker().feed({50, 0, 0}, 3000).feed({100, 0, 0}, 1000).program, machineOf(500)).time.total_s(),
      4.088888888889, within(4.088888888889));  // 2 t(L; 0 to v) + (N - 2) t(L; v to v)
}

TEST(Joint, a_rapid_runs_on_into_a_feed_move) {
  const Program p = ProgramMaker().rapid({200, 0, 0}).feed({250, 0, 0}, 1500).program;
  EXPECT_NEAR(clock::plan(p, machineOf(500, 5000)).time.total_s(), 4.549166666667,
              within(4.549166666667));  // blended
  Machine stopping = machineOf(500, 5000);
  stopping.cornering = Cornering::exact_stop;
  EXPECT_NEAR(clock::plan(p, stopping).time.total_s(), 4.616666666667, within(4.616666666667));  // stop between
}

TEST(ChoppedArc, runs_at_the_speed_that_its_corners_allow) {
  // r 10, a 500, deviation 0.01; N chords of a circle, corner speed alone.
  EXPECT_NEAR(corner(180 - 360.0 / 18, 500, 0.01), 18.00320080179, within(18.00320080179));
  EXPECT_NEAR(corner(180 - 360.0 / 71, 500, 0.01), 71.43832502465, within(71.43832502465));
  EXPECT_NEAR(corner(180 - 360.0 / 284, 500, 0.01), 285.8626369727, within(285.8626369727));
}

// The same circle as chords, ever finer, runs ever faster, beyond what its bend would bear.
TEST(ChoppedArc, the_finer_the_faster_so_the_same_shape_takes_different_times) {
  const double bend = 70.71067811865;  // sqrt(a r), r 10, a 500
  const auto time = [](int chords) {
    ProgramMaker maker;
    maker.rapid({10, 0, 0});
    for (int k = 1; k <= 4 * chords; ++k) {
      const double angle = 2 * std::numbers::pi * k / chords;
      maker.feed({10 * std::cos(angle), 10 * std::sin(angle), 0}, 60000);
    }
    return clock::plan(maker.program, machineOf(500)).time.cutting_s;
  };
  ProgramMaker maker;
  maker.rapid({10, 0, 0});
  for (int k = 0; k < 4; ++k) maker.arc(MotionKind::arc_ccw, Plane::xy, {0, 0}, {10, 0, 0}, 60000);
  const double as_arcs = clock::plan(maker.program, machineOf(500)).time.cutting_s;
  EXPECT_NEAR(80 * std::numbers::pi / as_arcs, bend, 0.06 * bend);  // four turns, with the speeding up
  EXPECT_GT(time(18), 2 * as_arcs);                                 // 18.0 mm/s in the corners
  EXPECT_NEAR(time(71), as_arcs, 0.1 * as_arcs);  // 71.4 mm/s in the corners, a little more between them
  EXPECT_LT(time(284), 0.6 * as_arcs);            // 285.9 mm/s
}

// What a slow machine adds depends on the program; no one factor mends an estimate.
TEST(Acceleration, over_its_range_makes_one_program_slower_by_a_percent_and_another_by_many_times) {
  const auto slower = [](const Program& p) {
    return clock::plan(p, machineOf(10)).time.total_s() / clock::plan(p, machineOf(1000)).time.total_s();
  };
  const Program straight = ProgramMaker().feed({20000, 0, 0}, 1000).program;
  ProgramMaker stitches;
  for (int k = 1; k <= 1000; ++k) stitches.feed({k % 2 == 0 ? 0.0 : 0.5, 0, 0}, 3000);
  EXPECT_NEAR(slower(straight), 1 + (16.6666666667 / 10 - 16.6666666667 / 1000) / 1200, 1e-4);  // d/v + v/a
  EXPECT_NEAR(slower(stitches.program), 10, 1e-9);  // 2 sqrt(d/a), so sqrt(1000 / 10)
}

TEST(Raster, rest_to_rest_on_every_line_and_step) {
  ProgramMaker maker;
  for (int row = 0; row < 400; ++row) {
    const double y = row * 0.25;
    maker.feed({row % 2 == 0 ? 100.0 : 0.0, y, 0}, 3000);
    if (row < 399) maker.feed({row % 2 == 0 ? 100.0 : 0.0, y + 0.25, 0}, 3000);
  }
  Machine m = machineOf(500);
  m.cornering = Cornering::exact_stop;
  EXPECT_NEAR(clock::plan(maker.program, m).time.total_s(), 857.8438224604, within(857.8438224604));  // sqrt(2 a N L)
  m = machineOf(50);
  m.cornering = Cornering::exact_stop;
  EXPECT_NEAR(clock::plan(maker.program, m).time.total_s(), 1256.427121139, within(1256.427121139));
}

TEST(ShortBlocks, a_thousand_moves_that_each_stop) {
  ProgramMaker maker;
  for (int k = 1; k <= 1000; ++k) maker.feed({k % 2 == 0 ? 0.0 : 0.5, 0, 0}, 3000);
  EXPECT_NEAR(clock::plan(maker.program, machineOf(500)).time.total_s(), 63.24555320337, within(63.24555320337));
  EXPECT_NEAR(clock::plan(maker.program, machineOf(50)).time.total_s(), 200, within(200));
}

TEST(ShortBlocks, a_machine_fed_block_by_block_cannot_outrun_its_line) {
  Machine m = machineOf(500);
  m.blocks_per_second = 200;
  clock::PlanOptions keep;
  keep.keep_speeds = true;
  ProgramMaker maker;
  for (int k = 1; k <= 100; ++k) maker.feed({k * 0.1, 0, 0}, 3000);
  clock::Plan p = clock::plan(maker.program, m, keep);
  EXPECT_NEAR(p.speeds[50].limit_mm_s * 60, 1200, within(1200));  // 0.1 at 200/s
  EXPECT_EQ(p.speeds[50].limit, clock::SpeedLimit::blocks_per_second);
  m.blocks_per_second = 100;
  ProgramMaker finer;
  for (int k = 1; k <= 100; ++k) finer.feed({k * 0.05, 0, 0}, 3000);
  p = clock::plan(finer.program, m, keep);
  EXPECT_NEAR(p.speeds[50].limit_mm_s * 60, 300, within(300));  // 0.05 at 100/s
}

}  // namespace
}  // namespace provecut
