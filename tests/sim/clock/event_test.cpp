// What a program spends beside moving, and how time is shared out.
#include <gtest/gtest.h>

#include <limits>
#include <numeric>

#include "sim/clock/clock.h"
#include "tests/sim/clock/program_maker.h"

namespace provecut {
namespace {

using test::machineOf;
using test::ProgramMaker;
using test::within;

TEST(Event, each_kind_of_time_is_kept_apart) {
  Machine m = machineOf(500, 6000);
  m.spindle_start_s = 4;
  m.tool_change_s = 90;
  const Program p = ProgramMaker()
                        .event(EventKind::tool_change, 1)
                        .event(EventKind::spindle_start, 18000)
                        .dwell(3)
                        .rapid({100, 0, 0})
                        .feed({100, 50, 0}, 3000)
                        .event(EventKind::tool_change, 2)
                        .event(EventKind::spindle_start, 12000)
                        .feed({0, 50, 0}, 3000)
                        .event(EventKind::end)
                        .program;
  Machine stopping = m;
  stopping.cornering = Cornering::exact_stop;
  const clock::Plan plan_ = clock::plan(p, stopping);
  EXPECT_DOUBLE_EQ(plan_.time.tool_change_s, 180);
  EXPECT_DOUBLE_EQ(plan_.time.spindle_s, 8);
  EXPECT_DOUBLE_EQ(plan_.time.dwell_s, 3);
  EXPECT_NEAR(plan_.time.rapid_s, 1.2, within(1.2));          // 100/100 + 100/500
  EXPECT_NEAR(plan_.time.cutting_s, 1.1 + 2.1, within(3.2));  // d/v + v/a
  EXPECT_DOUBLE_EQ(plan_.time.stop_s, 0);
  EXPECT_NEAR(plan_.time.total_s(), 180 + 8 + 3 + 1.2 + 3.2, 1e-9);
  EXPECT_EQ(plan_.tool_at_end, 2);
}

TEST(Event, the_tool_that_is_in_the_spindle_already_is_not_changed) {
  Machine m = machineOf(500);
  const Program p = ProgramMaker().event(EventKind::tool_change, 3).feed({10, 0, 0}, 600).program;
  clock::PlanOptions options;
  EXPECT_DOUBLE_EQ(clock::plan(p, m, options).time.tool_change_s, m.tool_change_s);
  options.tool_in_spindle = 3;
  EXPECT_DOUBLE_EQ(clock::plan(p, m, options).time.tool_change_s, 0);
}

TEST(Event, the_axes_come_to_rest_for_a_stop_and_run_on_past_an_optional_one) {
  const auto time = [](EventKind between) {
    return clock::plan(ProgramMaker().feed({100, 0, 0}, 3000).event(between).feed({200, 0, 0}, 3000).program,
                       machineOf(500))
        .time.total_s();
  };
  EXPECT_NEAR(time(EventKind::optional_stop), 4.1, within(4.1));  // 200/50 + 50/500
  EXPECT_NEAR(time(EventKind::comment_tool), 4.1, within(4.1));
  EXPECT_NEAR(time(EventKind::stop), 4.2, within(4.2));  // twice 100/50 + 50/500
  EXPECT_NEAR(time(EventKind::spindle_stop), 4.2, within(4.2));
}

TEST(Event, a_stop_of_the_spindle_takes_what_the_machine_waits) {
  Machine m = machineOf(500);
  const Program p = ProgramMaker()
                        .event(EventKind::spindle_start, 18000)
                        .feed({100, 0, 0}, 3000)
                        .event(EventKind::spindle_stop)
                        .program;
  EXPECT_DOUBLE_EQ(clock::plan(p, m).time.spindle_s, 4);
  m.spindle_stop_s = 7;
  EXPECT_DOUBLE_EQ(clock::plan(p, m).time.spindle_s, 11);
  EXPECT_EQ(clock::plan(p, m).event_s[1], 7.0F);
}

TEST(Event, a_program_without_moves_still_takes_its_time) {
  const clock::Plan p =
      clock::plan(ProgramMaker().event(EventKind::spindle_start, 10000).event(EventKind::end).program, Machine{});
  EXPECT_DOUBLE_EQ(p.time.total_s(), 4);
  EXPECT_TRUE(p.move_s.empty());
  EXPECT_DOUBLE_EQ(clock::plan(Program{}, Machine{}).time.total_s(), 0);
}

TEST(MoveTimes, add_up_to_the_total) {
  ProgramMaker maker;
  for (int k = 1; k <= 200; ++k) maker.feed({k * 1.0, k % 3 * 2.0, -0.1 * (k % 5)}, 1500).rapid({k * 1.0, 0, 1});
  const clock::Plan p = clock::plan(maker.program, Machine{});
  EXPECT_NEAR(std::accumulate(p.move_s.begin(), p.move_s.end(), 0.0), p.time.total_s(), 1e-6 * p.time.total_s());
  double rapid_s = 0;
  for (std::size_t i = 0; i < p.move_s.size(); ++i)
    if (maker.program.motions[i].kind == MotionKind::rapid) rapid_s += static_cast<double>(p.move_s[i]);
  EXPECT_NEAR(rapid_s, p.time.rapid_s, 1e-6 * rapid_s);
}

TEST(Rapid, with_independent_axes_takes_as_long_as_its_slowest_axis) {
  Machine m = machineOf(500);
  m.max_rate_mm_min = {5000, 3000, 1200};
  m.acceleration_mm_s2 = {500, 300, 100};
  m.rapids = Rapids::independent;
  // d/v + v/a for each axis: X 100 at 5000: 1.2 + 1/6; Y 90 at 3000: 1.8 + 1/6; Z 20 at 1200: 1 + 0.2
  EXPECT_NEAR(clock::plan(ProgramMaker().rapid({100, 90, 20}).program, m).time.rapid_s, 1.8 + 50.0 / 300, 1e-9);
  EXPECT_NEAR(clock::plan(ProgramMaker().rapid({100, 0, 20}).program, m).time.rapid_s, 1.2 + 5000.0 / 60 / 500, 1e-9);
}

TEST(Feed, an_override_scales_feeds_and_leaves_rapids) {
  const Program p = ProgramMaker().rapid({100, 0, 0}).event(EventKind::stop).feed({200, 0, 0}, 3000).program;
  clock::PlanOptions half;
  half.feed_override = 0.5;
  const clock::Plan full = clock::plan(p, machineOf(500, 6000)), slow = clock::plan(p, machineOf(500, 6000), half);
  EXPECT_NEAR(full.time.cutting_s, 2.1, within(2.1));    // rest to rest: d/v + v/a
  EXPECT_NEAR(slow.time.cutting_s, 4.05, within(4.05));  // 100/25 + 25/500
  EXPECT_DOUBLE_EQ(full.time.rapid_s, slow.time.rapid_s);
}

TEST(OddMoves, a_move_that_goes_nowhere_neither_takes_time_nor_slows_its_neighbours) {
  Program p = ProgramMaker().feed({100, 0, 0}, 3000).feed({100, 0, 0}, 3000).feed({200, 0, 0}, 3000).program;
  EXPECT_NEAR(clock::plan(p, machineOf(500)).time.total_s(), 4.1, within(4.1));  // 200/50 + 50/500
  p.motions[1].end.y = 1e-12;                                                    // what is left of a unit conversion
  EXPECT_NEAR(clock::plan(p, machineOf(500)).time.total_s(), 4.1, within(4.1));
  p.motions[1].flags = motion_machine_frame | motion_height_unknown;
  p.motions[1].kind = MotionKind::rapid;
  EXPECT_NEAR(clock::plan(p, machineOf(500)).time.total_s(), 4.1, within(4.1));
}

TEST(OddMoves, values_that_are_no_numbers_leave_a_finite_time) {
  const float nan = std::numeric_limits<float>::quiet_NaN();
  const float inf = std::numeric_limits<float>::infinity();
  for (float odd : {nan, inf, -inf, -1.0F, 0.0F, 1e-38F, 3e38F}) {
    Program p = ProgramMaker().feed({10, 0, 0}, 600).feed({10, 10, 0}, 600).dwell(1).feed({0, 0, 0}, 600).program;
    p.motions[1].feed_mm_min = odd;
    p.motions[2].dwell_s = odd;
    EXPECT_TRUE(std::isfinite(clock::plan(p, Machine{}).time.total_s())) << odd;
    p.motions[1].end.y = static_cast<double>(odd);
    p.motions[1].centre.x = static_cast<double>(odd);
    for (MotionKind kind : {MotionKind::feed, MotionKind::arc_cw, MotionKind::rapid}) {
      p.motions[1].kind = kind;
      EXPECT_TRUE(std::isfinite(clock::plan(p, Machine{}).time.total_s())) << odd;
    }
  }
}

TEST(OddLimitsDeathTest, a_limit_that_the_job_reader_must_have_refused_stops_with_the_reason) {
  const Program p = ProgramMaker().feed({10, 0, 0}, 600).program;
  for (double odd : {0.0, -1.0, std::numeric_limits<double>::quiet_NaN()}) {
    Machine rate, acceleration, deviation;
    rate.max_rate_mm_min.y = odd;
    acceleration.acceleration_mm_s2.z = odd;
    EXPECT_EXIT(clock::plan(p, rate), testing::ExitedWithCode(3), "defect in provecut");
    EXPECT_EXIT(clock::plan(p, acceleration), testing::ExitedWithCode(3), "defect in provecut");
    if (odd == 0.0) continue;
    deviation.junction_deviation_mm = odd;
    EXPECT_EXIT(clock::plan(p, deviation), testing::ExitedWithCode(3), "defect in provecut");
  }
}

TEST(OddLimits, absurd_but_positive_limits_leave_a_finite_time) {
  const Program p = ProgramMaker().feed({10, 0, 0}, 600).feed({10, 10, 0}, 600).rapid({0, 0, 5}).program;
  for (double odd : {1e-300, 1e-30, 1e30, 1e300, std::numeric_limits<double>::infinity()}) {
    Machine m = machineOf(odd, odd);
    EXPECT_TRUE(std::isfinite(clock::plan(p, m).time.total_s())) << odd;
    EXPECT_GT(clock::plan(p, m).time.total_s(), 0) << odd;
  }
}

}  // namespace
}  // namespace provecut
