// One move from rest to rest. d >= v²/a: d/v + v/a, else 2 sqrt(d/a) with a peak of sqrt(a d). Worked by hand in 40
// digits.
#include <gtest/gtest.h>

#include "sim/clock/clock.h"
#include "sim/clock/speed_profile.h"
#include "tests/sim/clock/program_maker.h"

namespace provecut {
namespace {

using test::machineOf;
using test::ProgramMaker;
using test::within;

double lineTime(double length_mm, double speed_mm_s, double acceleration_mm_s2) {
  const clock::Plan p =
      clock::plan(ProgramMaker().feed({length_mm, 0, 0}, speed_mm_s * 60).program, machineOf(acceleration_mm_s2));
  return p.time.total_s();
}

TEST(SingleMove, a_long_move_speeds_up_cruises_and_brakes) {
  EXPECT_NEAR(lineTime(100, 50, 500), 2.1, within(2.1));   // d/v + v/a
  EXPECT_NEAR(lineTime(300, 100, 200), 3.5, within(3.5));  // rest to rest: d/v + v/a
}

TEST(SingleMove, the_shortest_move_that_reaches_its_feed_is_the_limit_case_of_both_formulas) {
  EXPECT_NEAR(lineTime(5, 50, 500), 0.2, within(0.2));  // d = v²/a
}

TEST(SingleMove, a_short_move_brakes_before_it_reaches_its_feed) {
  EXPECT_NEAR(lineTime(2, 50, 500), 0.1264911064067, within(0.1264911064067));  // 2 sqrt(d/a)
  EXPECT_NEAR(lineTime(0.5, 50, 500), 0.06324555320337, within(0.06324555320337));
  EXPECT_NEAR(clock::peakSpeed(2, 50, 500, 0, 0), 31.62277660168, within(31.62277660168));  // sqrt(ad)
  EXPECT_NEAR(clock::peakSpeed(0.5, 50, 500, 0, 0), 15.81138830084, within(15.81138830084));
}

TEST(SingleMove, speeds_at_both_ends_shorten_it) {
  EXPECT_NEAR(clock::stretchTime(20, 50, 500, 10, 5), 0.4725, within(0.4725));
  EXPECT_NEAR(clock::stretchTime(1, 50, 500, 10, 5), 0.06486832980505, within(0.06486832980505));
  EXPECT_NEAR(clock::peakSpeed(1, 50, 500, 10, 5), 23.71708245126, within(23.71708245126));
  EXPECT_NEAR(clock::stretchTime(3, 50, 500, 0, 20), 0.1249242250247, within(0.1249242250247));
  EXPECT_NEAR(clock::peakSpeed(3, 50, 500, 0, 20), 41.23105625618, within(41.23105625618));
  EXPECT_NEAR(clock::stretchTime(0.375, 50, 500, 5, 20), 0.03, within(0.03));  // no room left
}

TEST(SingleMove, the_axis_that_gives_least_in_its_direction_sets_rate_and_acceleration) {
  Machine m = machineOf(500);
  m.max_rate_mm_min = {5000, 3000, 1200};
  m.acceleration_mm_s2 = {500, 300, 270};
  clock::PlanOptions keep;
  keep.keep_speeds = true;
  const clock::Plan p = clock::plan(ProgramMaker().rapid({600, 800, 0}).program, m, keep);
  EXPECT_NEAR(p.speeds.at(0).limit_mm_s * 60, 3750, within(3750));  // u (0.6, 0.8)
  EXPECT_NEAR(p.speeds.at(0).acceleration_mm_s2, 375, within(375));
  m.acceleration_mm_s2 = {500, 500, 270};
  const clock::Plan q = clock::plan(ProgramMaker().rapid({10, 10, 0}).program, m, keep);
  EXPECT_NEAR(q.speeds.at(0).acceleration_mm_s2, 707.1067811865, within(707.1067811865));  // 45 degrees
}

TEST(SingleMove, a_ramp_is_slowed_by_the_z_axis) {
  Machine m = machineOf(500, 12000);
  m.max_rate_mm_min.z = 1200;
  clock::PlanOptions keep;
  keep.keep_speeds = true;
  const double deg = 3.14159265358979323846 / 180;
  const clock::Plan p =
      clock::plan(ProgramMaker().rapid({100 * std::cos(10 * deg), 0, 100 * std::sin(10 * deg)}).program, m, keep);
  EXPECT_NEAR(p.speeds.at(0).limit_mm_s * 60, 6910.524579772, within(6910.524579772));  // 10 degrees
  EXPECT_EQ(p.speeds.at(0).limit, clock::SpeedLimit::axis_rate);
  const clock::Plan q =
      clock::plan(ProgramMaker().rapid({100 * std::cos(30 * deg), 0, 100 * std::sin(30 * deg)}).program, m, keep);
  EXPECT_NEAR(q.speeds.at(0).limit_mm_s * 60, 2400, within(2400));  // 30 degrees
}

}  // namespace
}  // namespace provecut
