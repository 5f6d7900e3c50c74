// Fitting the machine to measured times. The truth is known by construction: the "measured" times come from a machine
// whose values are then to be found.
#include <gtest/gtest.h>

#include "sim/clock/clock_fit.h"
#include "tests/sim/clock/program_maker.h"
#include "tests/sim/clock/random_path.h"

namespace provecut {
namespace {

using test::machineOf;
using test::ProgramMaker;
using test::RandomPath;

// Rest to rest over and over: only the acceleration counts.
Program stabs() {
  ProgramMaker maker;
  for (int k = 0; k < 200; ++k) maker.feed({k % 2 == 0 ? 3.0 : 0.0, 0, 0}, 3000);
  return maker.program;
}

// Chords of circles: corners count.
Program curves() {
  ProgramMaker maker;
  for (int k = 1; k <= 2000; ++k) maker.feed({20 - 20 * std::cos(0.12 * k), 20 * std::sin(0.12 * k), 0}, 12000);
  return maker.program;
}

clock::MeasuredRun measured(const Program& program, const Machine& truth, double error = 0) {
  return {&program, 0, clock::plan(program, truth).time.total_s() * (1 + error)};
}

TEST(ClockFit, finds_acceleration_and_junction_deviation_from_two_programs) {
  const Program a = stabs(), b = curves();
  Machine set = machineOf(500), truth = machineOf(180);
  truth.junction_deviation_mm = 0.035;
  const std::vector<clock::MeasuredRun> runs{measured(a, truth), measured(b, truth)};
  const clock::ClockFit fit = clock::fitClock(runs, set);
  EXPECT_TRUE(fit.acceleration_found);
  EXPECT_TRUE(fit.junction_found);
  EXPECT_FALSE(fit.at_edge);
  EXPECT_NEAR(fit.acceleration_factor * 500, 180, 0.01);
  EXPECT_NEAR(fit.junction_deviation_mm, 0.035, 1e-5);
  EXPECT_GT(fit.before_share, 0.1);
  EXPECT_LT(fit.after_share, 1e-5);
}

TEST(ClockFit, one_program_can_only_tell_the_acceleration) {
  const Program a = curves();
  const std::vector<clock::MeasuredRun> runs{measured(a, machineOf(900))};
  const clock::ClockFit fit = clock::fitClock(runs, machineOf(500));
  EXPECT_TRUE(fit.acceleration_found);
  EXPECT_FALSE(fit.junction_found);
  EXPECT_NEAR(fit.acceleration_factor, 1.8, 1e-4);
  EXPECT_DOUBLE_EQ(fit.junction_deviation_mm, 0.01);
}

TEST(ClockFit, leaves_alone_what_the_programs_do_not_depend_on) {
  // Two long lines: the acceleration is 0.02 % of the time.
  const Program a = ProgramMaker().feed({9000, 0, 0}, 600).program, b = ProgramMaker().feed({0, 7000, 0}, 600).program;
  const std::vector<clock::MeasuredRun> runs{{&a, 0, 901}, {&b, 0, 702}};
  const clock::ClockFit fit = clock::fitClock(runs, machineOf(500));
  EXPECT_FALSE(fit.acceleration_found);
  EXPECT_FALSE(fit.junction_found);
  EXPECT_DOUBLE_EQ(fit.acceleration_factor, 1);
  EXPECT_EQ(fit.before_share, fit.after_share);
  const Program c = stabs();
  const std::vector<clock::MeasuredRun> two{measured(c, machineOf(300)), measured(a, machineOf(300))};
  const clock::ClockFit other = clock::fitClock(two, machineOf(500));
  EXPECT_TRUE(other.acceleration_found);
  EXPECT_FALSE(other.junction_found);  // no corner anywhere but straight back
  EXPECT_NEAR(other.acceleration_factor, 0.6, 1e-4);
}

TEST(ClockFit, comes_near_with_readings_that_are_off_by_some_percent) {
  std::vector<Program> programs;
  for (unsigned seed = 701; seed <= 706; ++seed) programs.push_back(RandomPath(seed).program(120));
  Machine truth = machineOf(120, 6000, 0.02);
  std::vector<clock::MeasuredRun> runs;
  const double errors[] = {0.02, -0.02, 0.015, -0.01, 0.0, -0.005};
  for (std::size_t i = 0; i < programs.size(); ++i) runs.push_back(measured(programs[i], truth, errors[i]));
  const clock::ClockFit fit = clock::fitClock(runs, machineOf(500, 6000, 0.01));
  EXPECT_TRUE(fit.acceleration_found);
  EXPECT_LT(fit.after_share, 0.02);
  EXPECT_LT(fit.after_share, fit.before_share);
  EXPECT_NEAR(fit.acceleration_factor * 500, 120, 30);
}

TEST(ClockFit, says_when_the_times_fit_no_sensible_machine) {
  const Program a = stabs();
  const std::vector<clock::MeasuredRun> runs{{&a, 0, 100000}};
  EXPECT_TRUE(clock::fitClock(runs, machineOf(500)).at_edge);
}

TEST(ClockFit, knows_of_the_feed_override_that_was_set_while_measuring) {
  // At half the feed, 25 mm/s instead of 50, these stabs and lines take longer for two reasons; only one is the
  // acceleration.
  const Program a = stabs(), b = ProgramMaker().feed({900, 0, 0}, 3000).feed({0, 0, 0}, 3000).program;
  const Machine truth = machineOf(300);
  clock::PlanOptions half;
  half.feed_override = 0.5;
  const std::vector<clock::MeasuredRun> runs{{&a, 0, clock::plan(a, truth, half).time.total_s()},
                                             {&b, 0, clock::plan(b, truth, half).time.total_s()}};
  const clock::ClockFit fit = clock::fitClock(runs, machineOf(500), 0.5);
  EXPECT_TRUE(fit.acceleration_found);
  EXPECT_NEAR(fit.acceleration_factor * 500, 300, 0.03);
  EXPECT_LT(fit.after_share, 1e-5);
  EXPECT_GT(clock::fitClock(runs, machineOf(500)).after_share, 0.1);  // nothing else explains them
}

// Controllers take their junction deviation in thousandths of a millimetre (common practice, no source).
TEST(ClockFit, recommends_a_thousandth_where_even_less_would_fit) {
  const Program a = stabs(), b = curves();
  for (const double truth_mm : {0.0005, 1e-4, 1e-6}) {
    for (const double set_mm : {0.01, 1e-5}) {
      const std::vector<clock::MeasuredRun> runs{measured(a, machineOf(300, 1e5, truth_mm)),
                                                 measured(b, machineOf(300, 1e5, truth_mm))};
      const clock::ClockFit fit = clock::fitClock(runs, machineOf(500, 1e5, set_mm));
      // At 0.001 these curves still run at 13 mm/s, so that their time tells of the deviation.
      EXPECT_TRUE(fit.junction_found);
      EXPECT_NEAR(fit.junction_deviation_mm, 0.001, 1e-9);
      EXPECT_TRUE(fit.at_edge);
    }
  }
}

TEST(ClockFit, recognises_a_machine_that_halts_after_every_block) {
  const Program a = stabs(), b = curves();
  Machine truth = machineOf(300);
  truth.cornering = Cornering::exact_stop;
  const std::vector<clock::MeasuredRun> runs{measured(a, truth), measured(b, truth)};
  const clock::ClockFit fit = clock::fitClock(runs, machineOf(500));
  EXPECT_GT(fit.after_share, 0.01);
  ASSERT_TRUE(fit.exact_stop_share.has_value());
  EXPECT_LT(*fit.exact_stop_share, 1e-5);
  // One that does not halt is not said to.
  const std::vector<clock::MeasuredRun> others{measured(a, machineOf(300)), measured(b, machineOf(300))};
  EXPECT_FALSE(clock::fitClock(others, machineOf(500)).exact_stop_share.has_value());
}

TEST(ClockFit, without_measurements_changes_nothing) {
  const clock::ClockFit fit = clock::fitClock({}, machineOf(500));
  EXPECT_FALSE(fit.acceleration_found);
  EXPECT_DOUBLE_EQ(fit.acceleration_factor, 1);
}

}  // namespace
}  // namespace provecut
