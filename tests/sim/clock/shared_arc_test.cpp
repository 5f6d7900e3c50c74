// Arcs on which the acceleration along the path and the one towards the centre share what an axis gives. Worked
// by hand in 40 digits and by stepping in time.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "sim/clock/arc_speed.h"
#include "sim/clock/clock.h"
#include "tests/sim/clock/program_maker.h"
#include "tests/sim/clock/random_path.h"

namespace provecut {
namespace {

using test::directionOn;
using test::machineOf;
using test::ProgramMaker;
using test::RandomPath;
using test::within;

constexpr double pi = std::numbers::pi;

Machine sharing(Machine machine) {
  machine.arc_acceleration = ArcAcceleration::shared;
  return machine;
}

double circleTime(double radius_mm, double feed_mm_min) {
  const Program p = ProgramMaker().arc(MotionKind::arc_ccw, Plane::xy, {radius_mm, 0}, {0, 0, 0}, feed_mm_min).program;
  return clock::plan(p, sharing(machineOf(500))).time.total_s();
}

TEST(SharedArc, a_full_circle_from_rest_to_rest) {
  EXPECT_NEAR(circleTime(3, 3000), 0.568123785649, within(0.568123785649));   // 2 π r / v + v/a
  EXPECT_NEAR(circleTime(10, 6000), 1.037247376184, within(1.037247376184));  // F above 4242.6
}

TEST(SharedArc, from_rest_to_the_max_that_the_bend_allows_takes_45_degrees_of_arc) {
  for (double r : {0.5, 3.0, 10.0, 200.0})
    for (double a : {20.0, 500.0, 4000.0}) {
      const double most2 = a * r;
      EXPECT_NEAR(clock::arcReach2(0, pi * r / 4, a, most2), most2, 1e-12 * most2);
      EXPECT_LT(clock::arcReach2(0, 0.99 * pi * r / 4, a, most2), most2);
      const clock::SpeedStretch eighth{pi * r / 4, std::sqrt(most2), a, 0};
      const double expected = 1.311028777146 * std::sqrt(r / a);  // κ = Γ(1/4)² / (4 sqrt(2 π))
      EXPECT_NEAR(clock::driveArc(eighth, most2, 0, std::sqrt(most2)).time_s, expected, within(expected));
    }
  EXPECT_NEAR(clock::driveArc({pi * 3 / 4, std::sqrt(1500.0), 500, 0}, 1500, 0, std::sqrt(1500.0)).time_s,
              0.1015518524057, within(0.1015518524057));
  EXPECT_NEAR(clock::driveArc({pi * 10 / 4, std::sqrt(5000.0), 500, 0}, 5000, 0, std::sqrt(5000.0)).time_s,
              0.1854074677301, within(0.1854074677301));
}

TEST(SharedArc, a_huge_circle_is_a_straight_line) {
  const clock::SpeedStretch s{100, 50, 500, 0};
  EXPECT_NEAR(clock::driveArc(s, 1e12, 0, 0).time_s, 2.1, 1e-8);  // rest to rest: d/v + v/a
  EXPECT_NEAR(clock::driveArc({20, 50, 500, 0}, 1e12, 10, 5).time_s, 0.4725, 1e-8);
}

// The acceleration of every axis along and across together, in small steps of time on every arc of random programs.
TEST(SharedArc, no_axis_ever_sees_more_than_its_own_acceleration) {
  clock::PlanOptions keep;
  keep.keep_speeds = true;
  int arcs = 0;
  double nearest = 0;
  for (unsigned seed = 1101; seed <= 1130; ++seed) {
    RandomPath random(seed);
    const Machine machine = sharing(random.machine());
    const Program program = random.program(60);
    const clock::Plan p = clock::plan(program, machine, keep);
    double speed_before = 0;
    for (std::size_t i = 0; i < program.motions.size(); ++i) {
      const Motion& m = program.motions[i];
      const clock::MoveSpeed& s = p.speeds[i];
      ASSERT_DOUBLE_EQ(s.entry_mm_s, speed_before);
      speed_before = s.exit_mm_s;
      if (!isArc(m)) continue;
      ++arcs;
      const clock::MovePath path =
          clock::movePath(m, clock::axisLimits(machine), static_cast<double>(m.feed_mm_min) / 60);
      ASSERT_GT(path.bend2_mm2_s2, 0);
      const int steps = 500;
      for (int k = 0; k < steps; ++k) {
        const double share = (k + 0.5) / steps, at_mm = share * s.length_mm;
        // Highest speed here that the entry and the exit leave.
        const double up2 =
            clock::arcReach2(s.entry_mm_s * s.entry_mm_s, at_mm, path.acceleration_mm_s2, path.bend2_mm2_s2);
        const double down2 = clock::arcReach2(s.exit_mm_s * s.exit_mm_s, s.length_mm - at_mm, path.acceleration_mm_s2,
                                              path.bend2_mm2_s2);
        const double cap2 = s.limit_mm_s * s.limit_mm_s;
        const double v2 = std::min({up2, down2, cap2});
        ASSERT_LE(std::sqrt(v2), s.peak_mm_s * (1 + 1e-9));
        // dv²/ds / 2 by a difference, where the speed changes.
        const double h = 1e-6 * s.length_mm;
        double along = 0;
        if (v2 < cap2) {
          const bool rising = up2 < down2;
          const double next2 = rising ? clock::arcReach2(s.entry_mm_s * s.entry_mm_s, at_mm + h,
                                                         path.acceleration_mm_s2, path.bend2_mm2_s2)
                                      : clock::arcReach2(s.exit_mm_s * s.exit_mm_s, s.length_mm - at_mm + h,
                                                         path.acceleration_mm_s2, path.bend2_mm2_s2);
          along = (next2 - v2) / (2 * h);
        }
        const double inside = std::clamp(share, 1e-3, 1 - 1e-3);
        const Vec3 t = directionOn(m, inside);
        const Vec3 bend = (directionOn(m, inside + 5e-5) - directionOn(m, inside - 5e-5)) * (1 / (1e-4 * s.length_mm));
        for (double way : {along, -along}) {
          const Vec3 a = t * way + bend * v2;
          const Vec3& most = machine.acceleration_mm_s2;
          for (auto [value, limit] : {std::pair{a.x, most.x}, {a.y, most.y}, {a.z, most.z}}) {
            ASSERT_LE(std::fabs(value), limit * (1 + 1e-3)) << "seed " << seed << ", move " << i << ", " << share;
            nearest = std::max(nearest, std::fabs(value) / limit);
          }
        }
      }
    }
    ASSERT_EQ(speed_before, 0);
  }
  EXPECT_GT(arcs, 200);
  EXPECT_GT(nearest, 0.99);  // the limit is met, not only kept
}

// With a limited jerk the two go in fixed shares: at the highest speed and the maxOf change of it at once no axis sees
// too much.
TEST(SharedArc, with_a_jerk_no_axis_sees_more_than_its_own_acceleration_either) {
  int arcs = 0;
  double nearest = 0;
  for (unsigned seed = 1201; seed <= 1230; ++seed) {
    RandomPath random(seed);
    Machine machine = sharing(random.machine());
    machine.jerk_mm_s3 = random.between(500, 30000);
    for (const Motion& m : random.program(60).motions) {
      if (!isArc(m)) continue;
      ++arcs;
      const clock::MovePath path =
          clock::movePath(m, clock::axisLimits(machine), static_cast<double>(m.feed_mm_min) / 60);
      ASSERT_EQ(path.bend2_mm2_s2, 0);
      for (int k = 0; k < 300; ++k) {
        const double share = std::clamp((k + 0.5) / 300, 1e-3, 1 - 1e-3);
        const Vec3 t = directionOn(m, share);
        const Vec3 bend = (directionOn(m, share + 5e-5) - directionOn(m, share - 5e-5)) * (1 / (1e-4 * path.length_mm));
        for (double way : {path.acceleration_mm_s2, -path.acceleration_mm_s2}) {
          const Vec3 a = t * way + bend * (path.speed_mm_s * path.speed_mm_s);
          const Vec3& most = machine.acceleration_mm_s2;
          for (auto [value, limit] : {std::pair{a.x, most.x}, {a.y, most.y}, {a.z, most.z}}) {
            ASSERT_LE(std::fabs(value), limit * (1 + 1e-3)) << "seed " << seed << ", " << share;
            nearest = std::max(nearest, std::fabs(value) / limit);
          }
        }
      }
    }
  }
  EXPECT_GT(arcs, 200);
  EXPECT_GT(nearest, 0.99);
}

TEST(SharedArc, costs_time_and_higher_limits_never_take_longer) {
  for (unsigned seed = 1131; seed <= 1190; ++seed) {
    RandomPath random(seed);
    const Machine machine = random.machine();
    const Program program = random.program(60);
    const double before = clock::plan(program, sharing(machine)).time.total_s();
    EXPECT_GE(before, clock::plan(program, machine).time.total_s());
    const double more = 1 + random.between(0, 1);
    for (int k = 0; k < 7; ++k) {
      Machine better = machine;
      if (k < 6) {
        Vec3& limits = k < 3 ? better.max_rate_mm_min : better.acceleration_mm_s2;
        (k % 3 == 0 ? limits.x : k % 3 == 1 ? limits.y : limits.z) *= more;
      } else {
        better.junction_deviation_mm *= more;
      }
      EXPECT_LE(clock::plan(program, sharing(better)).time.total_s(), before * (1 + 1e-12))
          << "seed " << seed << ", limit " << k;
    }
  }
}

}  // namespace
}  // namespace provecut
