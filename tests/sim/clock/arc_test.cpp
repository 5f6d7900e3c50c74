// Arcs and helixes. A circle bears sqrt(a r) and takes 2 π r / v + v/a from rest to rest; a turn of a helix is
// sqrt((2 π r)² + p²) long and bends with the radius (r² + (p / 2 π)²) / r. Worked by hand in 40 digits.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "parser/program/arc.h"
#include "sim/clock/clock.h"
#include "tests/sim/clock/program_maker.h"

namespace provecut {
namespace {

using test::machineOf;
using test::ProgramMaker;
using test::within;

constexpr double pi = std::numbers::pi;

Program circle(double radius_mm, double feed_mm_min, Plane plane = Plane::xy, MotionKind way = MotionKind::arc_ccw) {
  ProgramMaker maker;
  // From the origin about a centre that lies one radius along the plane's first axis.
  return maker.arc(way, plane, {radius_mm, 0}, {0, 0, 0}, feed_mm_min).program;
}

// These take the accelerations along and towards the centre apart; together: shared_arc_test.cpp.
Machine limitedApart(double acceleration_mm_s2, double rate_mm_min = 1e5) {
  Machine m = machineOf(acceleration_mm_s2, rate_mm_min);
  m.arc_acceleration = ArcAcceleration::apart;
  return m;
}

clock::PlanOptions keepSpeeds() {
  clock::PlanOptions keep;
  keep.keep_speeds = true;
  return keep;
}

TEST(Circle, from_rest_to_rest_at_the_feed_or_at_what_the_bend_allows) {
  for (Plane plane : {Plane::xy, Plane::zx, Plane::yz})
    for (MotionKind way : {MotionKind::arc_cw, MotionKind::arc_ccw}) {
      const auto time = [&](double r) {
        return clock::plan(circle(r, 3000, plane, way), limitedApart(500)).time.total_s();
      };
      EXPECT_NEAR(time(10), 1.356637061436, within(1.356637061436));  // 2 π r / v + v/a
      EXPECT_NEAR(time(3), 0.564153108041, within(0.564153108041));
      EXPECT_NEAR(time(0.5), 0.2303145419176, within(0.2303145419176));
    }
}

TEST(Circle, the_bend_limits_the_speed) {
  const auto limit = [](double r, double a) {
    return clock::plan(circle(r, 0), machineOf(a, 1e6), keepSpeeds()).speeds.at(0);
  };
  EXPECT_NEAR(limit(3.175, 500).limit_mm_s, 39.84344362627, within(39.84344362627));  // sqrt(a r)
  EXPECT_NEAR(limit(0.5, 500).limit_mm_s, 15.81138830084, within(15.81138830084));
  EXPECT_NEAR(limit(25, 200).limit_mm_s, 70.71067811865, within(70.71067811865));
  EXPECT_NEAR(limit(1, 1000).limit_mm_s, 31.62277660168, within(31.62277660168));
  EXPECT_EQ(limit(1, 1000).limit, clock::SpeedLimit::centripetal);
}

TEST(Circle, the_weaker_axis_of_its_plane_counts_and_the_third_does_not) {
  Machine m = machineOf(500);
  m.acceleration_mm_s2 = {500, 400, 100};
  EXPECT_NEAR(clock::plan(circle(3, 60000), m, keepSpeeds()).speeds.at(0).limit_mm_s, std::sqrt(400.0 * 3), 1e-9);
  EXPECT_NEAR(clock::plan(circle(3, 60000, Plane::zx), m, keepSpeeds()).speeds.at(0).limit_mm_s, std::sqrt(100.0 * 3),
              1e-9);
  EXPECT_NEAR(clock::plan(circle(3, 60000, Plane::yz), m, keepSpeeds()).speeds.at(0).limit_mm_s, std::sqrt(100.0 * 3),
              1e-9);
}

TEST(Helix, climbs_at_the_feed_along_its_path) {
  const double turn_mm = std::hypot(2 * pi * 3, 1.5);
  EXPECT_NEAR(turn_mm, 18.90914483627, within(18.90914483627));  // one turn: sqrt((2 π r)² + p²)
  const Program four = ProgramMaker().arc(MotionKind::arc_ccw, Plane::xy, {3, 0}, {0, 0, -6}, 1200, 4).program;
  const clock::Plan p = clock::plan(four, limitedApart(500), keepSpeeds());
  EXPECT_NEAR(p.speeds.at(0).length_mm, 4 * turn_mm, within(4 * turn_mm));
  EXPECT_NEAR(p.time.total_s(), 3.821828967255, within(3.821828967255));  // 4 turns
}

TEST(Helix, its_bend_has_the_radius_of_a_helix) {
  const double radius = (9 + (1.5 / (2 * pi)) * (1.5 / (2 * pi))) / 3;
  EXPECT_NEAR(radius, 3.018997721933, within(3.018997721933));
  const Program one = ProgramMaker().arc(MotionKind::arc_cw, Plane::xy, {3, 0}, {0, 0, -1.5}, 0).program;
  EXPECT_NEAR(clock::plan(one, machineOf(500, 1e6), keepSpeeds()).speeds.at(0).limit_mm_s, std::sqrt(500 * radius),
              1e-9);
}

TEST(Helix, is_slowed_by_the_axis_that_climbs) {
  Machine m = machineOf(1e6);
  const Program steep = ProgramMaker().arc(MotionKind::arc_ccw, Plane::xy, {3, 0}, {0, 0, -1.5}, 1200).program;
  m.max_rate_mm_min.z = 60;
  // at 1200 mm/min along the path Z goes at 95.19203621239 mm/min.
  const double expected = 1200.0 / 60 * 60 / 95.19203621239;
  EXPECT_NEAR(clock::plan(steep, m, keepSpeeds()).speeds.at(0).limit_mm_s, expected, within(expected));
  EXPECT_EQ(clock::plan(steep, m, keepSpeeds()).speeds.at(0).limit, clock::SpeedLimit::axis_rate);
}

TEST(Arc, a_quarter_that_stays_clear_of_an_axis_direction_is_held_back_less_by_that_axis) {
  // From 30 to 60 degrees about the origin: the normal has at most cos 30 in X and sin 60 in Y.
  Motion m;
  m.kind = MotionKind::arc_ccw;
  m.start = {10 * std::cos(pi / 6), 10 * std::sin(pi / 6), 0};
  m.end = {10 * std::cos(pi / 3), 10 * std::sin(pi / 3), 0};
  const clock::MovePath path = clock::movePath(m, clock::axisLimits(limitedApart(500, 1e6)), 0);
  EXPECT_NEAR(path.speed_mm_s, std::sqrt(500 / std::cos(pi / 6) * 10), 1e-9);
  EXPECT_NEAR(path.acceleration_mm_s2, 500 / std::cos(pi / 6), 1e-9);
}

TEST(Arc, runs_on_from_a_tangent_line_without_slowing) {
  // 50 along X, a quarter of radius 20 to the left, 50 along Y: no corner anywhere, so as one straight move at the
  // feed.
  const Program p = ProgramMaker()
                        .feed({50, 0, 0}, 3000)
                        .arc(MotionKind::arc_ccw, Plane::xy, {50, 20}, {70, 20, 0}, 3000)
                        .feed({70, 70, 0}, 3000)
                        .program;
  const double expected = (100 + 10 * pi) / 50 + 50.0 / 500;  // d/v + v/a
  EXPECT_NEAR(clock::plan(p, machineOf(500)).time.total_s(), expected, within(expected));
}

TEST(Arc, an_end_on_the_start_is_a_whole_turn_and_rounding_does_not_change_that) {
  for (double off : {0.0, 1e-13, -1e-13}) {
    Motion m;
    m.kind = MotionKind::arc_cw;
    m.start = {10, 0, 0};
    m.end = {10, off, 0};
    EXPECT_NEAR(sweepOf(m), 2 * pi, 1e-9);
    m.turns = 3;
    EXPECT_NEAR(sweepOf(m), 6 * pi, 1e-9);
  }
}

}  // namespace
}  // namespace provecut
