// Where the time goes and why.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <numeric>

#include "sim/clock/time_report.h"
#include "tests/sim/clock/program_maker.h"
#include "tests/sim/clock/random_path.h"

namespace provecut {
namespace {

using test::machineOf;
using test::ProgramMaker;
using test::RandomPath;

Job jobOf(std::size_t programs, const Machine& machine) {
  Job job;
  job.machine = machine;
  job.setups.emplace_back();
  job.setups[0].programs.resize(programs);
  return job;
}

clock::TimeReport reportOf(const Program& program, const Machine& machine = machineOf(500)) {
  const std::vector<Program> programs{program};
  return clock::timeReport(jobOf(1, machine), programs);
}

clock::SlowReason reasonOf(const Program& program, const Machine& machine = machineOf(500)) {
  const clock::TimeReport r = reportOf(program, machine);
  return r.slowest.empty() ? clock::SlowReason::feed : r.slowest[0].reason;
}

TEST(SlowStretch, a_long_move_is_slow_only_for_its_feed) {
  const clock::TimeReport r = reportOf(ProgramMaker().feed({1000, 0, 0}, 600).program);
  ASSERT_EQ(r.slowest.size(), 1U);
  EXPECT_EQ(r.slowest[0].reason, clock::SlowReason::feed);
  EXPECT_DOUBLE_EQ(r.slowest[0].at_feed_s, 100);
}

TEST(SlowStretch, a_zigzag_of_short_moves_never_gets_up_to_its_feed) {
  ProgramMaker maker;
  for (int k = 1; k <= 300; ++k) maker.feed({k * 0.5, k % 2 * 0.5, 0}, 3000);
  EXPECT_EQ(reasonOf(maker.program), clock::SlowReason::short_blocks);
}

TEST(SlowStretch, a_square_of_sides_long_enough_slows_down_for_its_corners) {
  ProgramMaker maker;
  for (int k = 0; k < 20; ++k)
    maker.feed({12, 0, 0}, 3000).feed({12, 12, 0}, 3000).feed({0, 12, 0}, 3000).feed({0, 0, 0}, 3000);
  EXPECT_EQ(reasonOf(maker.program), clock::SlowReason::corner);
}

TEST(SlowStretch, single_strokes_between_rapids_are_a_matter_of_acceleration) {
  Machine m = machineOf(50);
  m.rapids = Rapids::independent;  // every rapid halts
  EXPECT_EQ(reasonOf(ProgramMaker().feed({5, 0, 0}, 3000).rapid({5, 5, 0}).program, m),
            clock::SlowReason::acceleration);
}

TEST(SlowStretch, a_feed_above_what_the_axis_gives_is_named) {
  Machine m = machineOf(5000);
  m.max_rate_mm_min.z = 300;
  EXPECT_EQ(reasonOf(ProgramMaker().feed({0, 0, -50}, 1200).program, m), clock::SlowReason::axis_limit);
}

TEST(SlowStretch, small_circles_are_slow_for_their_bend) {
  ProgramMaker maker;
  for (int k = 0; k < 50; ++k) maker.arc(MotionKind::arc_ccw, Plane::xy, {0.5, 0}, {0, 0, 0}, 3000);
  EXPECT_EQ(reasonOf(maker.program), clock::SlowReason::bend);
}

TEST(SlowStretch, blocks_that_come_too_slowly_are_named) {
  Machine m = machineOf(500);
  m.blocks_per_second = 50;
  ProgramMaker maker;
  for (int k = 1; k <= 300; ++k) maker.feed({k * 0.1, 0, 0}, 3000);
  EXPECT_EQ(reasonOf(maker.program, m), clock::SlowReason::blocks_per_second);
}

TEST(SlowStretch, the_ten_slowest_come_first_with_their_lines) {
  ProgramMaker maker;
  for (int k = 1; k <= 15; ++k) {
    maker.rapid({0, k * 1.0, 5}).feed({0, k * 1.0, 0}, 300);
    maker.feed({k * 10.0, k * 1.0, 0}, 600);
  }
  const clock::TimeReport r = reportOf(maker.program);
  ASSERT_EQ(r.slowest.size(), 10U);
  for (std::size_t i = 1; i < r.slowest.size(); ++i) EXPECT_GE(r.slowest[i - 1].time_s, r.slowest[i].time_s);
  // The longest is the last: three motions a turn, one a line.
  EXPECT_EQ(r.slowest[0].first_line, 44U);
  EXPECT_EQ(r.slowest[0].last_line, 45U);
  EXPECT_NEAR(r.slowest[0].length_mm, 155, 1e-9);
}

TEST(TimeReport, every_second_is_somewhere_and_only_once) {
  for (unsigned seed = 801; seed <= 820; ++seed) {
    RandomPath random(seed);
    Machine m = random.machine();
    if (random.oneOf(3) == 0) m.blocks_per_second = random.between(10, 300);
    std::vector<Program> programs{random.program(60), random.program(80)};
    programs[1].events.push_back({EventKind::tool_change, 20, 2, {}, {}});
    programs[1].events.push_back({EventKind::spindle_start, 20, 12000, {}, {}});
    for (std::size_t i = 20; i < programs[1].motions.size(); ++i) programs[1].motions[i].tool = 2;
    const clock::TimeReport r = clock::timeReport(jobOf(2, m), programs);
    TimeSpent by_tool;
    for (const clock::ToolTime& t : r.tools) by_tool = by_tool + t.time;
    EXPECT_NEAR(by_tool.total_s(), r.time.total_s(), 1e-6 * r.time.total_s());
    EXPECT_NEAR(by_tool.cutting_s, r.time.cutting_s, 1e-6 * r.time.total_s());
    EXPECT_NEAR(by_tool.rapid_s, r.time.rapid_s, 1e-6 * r.time.total_s());
    EXPECT_DOUBLE_EQ(by_tool.tool_change_s, r.time.tool_change_s);
    EXPECT_DOUBLE_EQ(by_tool.spindle_s, 4);
    EXPECT_NEAR(std::accumulate(r.feed_time_s.begin(), r.feed_time_s.end(), 0.0), r.time.cutting_s,
                1e-6 * r.time.total_s());
    for (double s : r.feed_time_s) EXPECT_GE(s, -1e-6 * r.time.total_s());
    ASSERT_EQ(r.tools.size(), 3U);
    EXPECT_EQ(r.tools[2].tool, 2);
  }
}

TEST(TimeReport, the_setups_share_out_the_time) {
  Job job = jobOf(1, machineOf(500));
  job.setups.emplace_back().programs.resize(2);
  job.setups.emplace_back();  // with nothing to run
  const Program line = ProgramMaker().feed({100, 0, 0}, 3000).program;
  const std::vector<Program> programs{line, line, line};
  const clock::TimeReport r = clock::timeReport(job, programs);
  ASSERT_EQ(r.setups.size(), 3U);
  EXPECT_NEAR(r.setups[0].time.total_s(), 2.1, 1e-9);  // rest to rest: d/v + v/a
  EXPECT_NEAR(r.setups[1].time.total_s(), 4.2, 1e-9);
  EXPECT_EQ(r.setups[2].time.total_s(), 0);
  EXPECT_NEAR(r.setups[1].high.total_s(), 2 * (2 + 50.0 / 350), 1e-9);
}

TEST(TimeReport, air_is_told_from_cutting_where_the_stock_was_cut) {
  Job job = jobOf(1, machineOf(500));
  job.tools.emplace_back().number = 1;
  Program p = ProgramMaker().feed({100, 0, 0}, 3000).event(EventKind::stop).feed({0, 0, 0}, 3000).program;
  for (Motion& m : p.motions) m.tool = 1;
  const std::vector<Program> programs{p};
  std::vector<ProgramRun> runs(1);
  runs[0].cuts.resize(2);
  runs[0].cuts[0].removed_mm3 = 1;
  const clock::TimeReport r = clock::timeReport(job, programs, {}, runs);
  EXPECT_TRUE(r.air_known);
  EXPECT_NEAR(r.time.air_s, 2.1, 1e-6);
  EXPECT_NEAR(r.time.cutting_s, 2.1, 1e-6);
  EXPECT_NEAR(r.tools[0].time.air_s, 2.1, 1e-6);
  EXPECT_NEAR(r.air_at_feed_s, 2, 1e-6);
  ASSERT_EQ(r.slowest.size(), 2U);
  EXPECT_NEAR(r.slowest[0].air_s + r.slowest[1].air_s, 2.1, 1e-6);
  EXPECT_FALSE(clock::timeReport(job, programs).air_known);
}

TEST(TimeReport, counts_the_moves_that_never_reach_their_feed) {
  // 5 mm is just enough for 3000 mm/min at 500 mm/s² (v²/a); 4.9 is not.
  ProgramMaker maker;
  maker.feed({5, 0, 0}, 3000)
      .event(EventKind::stop)
      .feed({9.9, 0, 0}, 3000)
      .event(EventKind::stop)
      .feed({14.9, 0, 0}, 3000)
      .event(EventKind::stop);
  const clock::TimeReport r = reportOf(maker.program);
  EXPECT_EQ(r.tools[0].feed_moves, 3U);
  EXPECT_EQ(r.tools[0].below_feed_moves, 1U);
  EXPECT_NEAR(r.below_feed_share, 1.0 / 3, 1e-12);
}

TEST(TimeReport, what_if_is_the_job_planned_again) {
  const Program p = ProgramMaker().feed({100, 0, 0}, 3000).program;
  const clock::TimeReport r = reportOf(p);
  const auto with = [&](std::string_view words) {
    for (const clock::WhatIf& w : r.what_if)
      if (w.change.find(words) != std::string::npos) return w.time_s;
    return -1.0;
  };
  EXPECT_NEAR(with("feeds 25 % lower"), 100 / 37.5 + 37.5 / 500, 1e-9);  // d/v + v/a
  EXPECT_NEAR(with("feeds 25 % higher"), 100 / 62.5 + 62.5 / 500, 1e-9);
  EXPECT_NEAR(with("accelerations 50 % higher"), 2 + 50.0 / 750, 1e-9);
}

TEST(TimeReport, of_nothing_is_nothing) {
  const clock::TimeReport r = clock::timeReport(jobOf(0, machineOf(500)), {});
  EXPECT_EQ(r.time.total_s(), 0);
  EXPECT_TRUE(r.slowest.empty());
  EXPECT_EQ(reportOf(Program{}).below_feed_share, 0);
}

TEST(TimeSpent, its_total_is_the_sum_of_all_its_parts) {
  TimeSpent t;
  t.cutting_s = 1;
  t.air_s = 2;
  t.rapid_s = 4;
  t.dwell_s = 8;
  t.stop_s = 16;
  t.spindle_s = 32;
  t.tool_change_s = 64;
  EXPECT_EQ(t.total_s(), 127);
}

}  // namespace
}  // namespace provecut
