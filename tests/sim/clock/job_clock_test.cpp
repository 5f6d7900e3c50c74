// A job's time and its bounds.
#include <gtest/gtest.h>

#include "sim/clock/job_clock.h"
#include "tests/sim/clock/program_maker.h"
#include "tests/sim/clock/random_path.h"

namespace provecut {
namespace {

using test::machineOf;
using test::ProgramMaker;
using test::RandomPath;
using test::within;

Job jobOf(std::vector<int> tools, const Machine& machine) {
  Job job;
  job.machine = machine;
  job.setups.emplace_back();
  for (int tool : tools) {
    job.setups[0].programs.emplace_back();
    job.setups[0].programs.back().tool = tool;
  }
  return job;
}

Program line() {
  return ProgramMaker().feed({100, 0, 0}, 3000).program;
}

TEST(JobClock, another_tool_for_the_next_program_is_changed_by_hand_in_between) {
  Machine m = machineOf(500);
  m.tool_change_s = 90;
  const std::vector<Program> programs{line(), line(), line(), line()};
  const auto times = clock::jobTimes(jobOf({1, 2, 0, 2}, m), programs);
  EXPECT_DOUBLE_EQ(times.at(0).time.tool_change_s, 0);  // the first tool is part of setting up
  EXPECT_DOUBLE_EQ(times[1].time.tool_change_s, 90);
  EXPECT_DOUBLE_EQ(times[2].time.tool_change_s, 0);  // not said: what is there stays
  EXPECT_DOUBLE_EQ(times[3].time.tool_change_s, 0);
  EXPECT_DOUBLE_EQ(times[1].high.tool_change_s, 90);
  EXPECT_DOUBLE_EQ(times[1].low.tool_change_s, 0);
  EXPECT_NEAR(times[1].time.cutting_s, 2.1, within(2.1));  // d/v + v/a
}

TEST(JobClock, a_tool_that_the_program_before_left_in_the_spindle_needs_no_change) {
  Machine m = machineOf(500);
  const std::vector<Program> programs{ProgramMaker().event(EventKind::tool_change, 7).feed({10, 0, 0}, 600).program,
                                      ProgramMaker().event(EventKind::tool_change, 7).feed({10, 0, 0}, 600).program};
  const auto times = clock::jobTimes(jobOf({0, 0}, m), programs);
  EXPECT_DOUBLE_EQ(times.at(0).time.tool_change_s, m.tool_change_s);
  EXPECT_DOUBLE_EQ(times[1].time.tool_change_s, 0);
}

TEST(JobClock, the_bounds_follow_from_what_they_assume) {
  Machine m = machineOf(500);
  m.tool_change_s = 60;
  m.spindle_start_s = 5;
  const std::vector<Program> programs{ProgramMaker()
                                          .event(EventKind::spindle_start, 18000)
                                          .feed({100, 0, 0}, 3000)
                                          .event(EventKind::stop)
                                          .dwell(2)
                                          .program};
  const auto t = clock::jobTimes(jobOf({1}, m), programs).at(0);
  EXPECT_NEAR(t.time.total_s(), 5 + 2.1 + 2, 1e-9);
  EXPECT_NEAR(t.low.total_s(), 2.1 + 2, 1e-9);
  EXPECT_NEAR(t.high.total_s(), 5 + (2 + 50.0 / 350) + 60 + 2, 1e-9);  // d/v + v/a with a = 0.7 x 500
}

TEST(JobClock, the_low_bound_does_not_wait_for_blocks) {
  Machine m = machineOf(500);
  m.blocks_per_second = 0.1;  // 100 mm a block: 10 mm/s
  const std::vector<Program> programs{line()};
  const auto t = clock::jobTimes(jobOf({1}, m), programs).at(0);
  EXPECT_NEAR(t.time.total_s(), 10 + 10.0 / 500, 1e-9);
  EXPECT_NEAR(t.low.total_s(), 2.1, 1e-9);
}

TEST(JobClock, feed_moves_that_take_nothing_are_air) {
  Job job = jobOf({1}, machineOf(500));
  job.tools.emplace_back().number = 1;
  Program p = ProgramMaker()
                  .feed({100, 0, 0}, 3000)
                  .event(EventKind::stop)
                  .feed({200, 0, 0}, 3000)
                  .event(EventKind::stop)
                  .rapid({0, 0, 0})
                  .program;
  for (Motion& m : p.motions) m.tool = 1;
  const std::vector<Program> programs{p};
  clock::ProgramTimes t = clock::jobTimes(job, programs).at(0);
  std::vector<MoveCut> cuts(3);
  cuts[1].removed_mm3 = 5;
  const double rapid_s = t.time.rapid_s;
  clock::shareOutAir(job, p, cuts, t);
  EXPECT_NEAR(t.time.air_s, 2.1, 1e-6);  // rest to rest: d/v + v/a
  EXPECT_NEAR(t.time.cutting_s, 2.1, 1e-6);
  EXPECT_NEAR(t.high.air_s, 2 + 50.0 / 350, 1e-6);
  EXPECT_EQ(t.time.rapid_s, rapid_s);
  // Of a tool that the job does not define nothing is known.
  job.tools.clear();
  t = clock::jobTimes(job, programs).at(0);
  clock::shareOutAir(job, p, cuts, t);
  EXPECT_EQ(t.time.air_s, 0);
}

TEST(JobClock, low_estimate_and_high_are_in_this_order_for_every_kind_of_time) {
  for (unsigned seed = 601; seed <= 630; ++seed) {
    RandomPath random(seed);
    Machine m = random.machine();
    if (random.oneOf(2) == 0) m.blocks_per_second = random.between(10, 500);
    if (seed % 3 == 0) m.jerk_mm_s3 = random.between(500, 30000);
    if (seed % 5 == 0) m.look_ahead_blocks = 1 + random.oneOf(20);
    const std::vector<Program> programs{random.program(50), random.program(50)};
    for (const clock::ProgramTimes& t : clock::jobTimes(jobOf({1, 2}, m), programs)) {
      EXPECT_LE(t.low.cutting_s, t.time.cutting_s);
      EXPECT_LE(t.low.rapid_s, t.time.rapid_s);
      if (m.jerk_mm_s3 > 0)
        EXPECT_LE(t.time.cutting_s, t.high.cutting_s);
      else
        EXPECT_LT(t.time.cutting_s, t.high.cutting_s);
      EXPECT_LE(t.low.total_s(), t.time.total_s());
      EXPECT_LE(t.time.total_s(), t.high.total_s());
    }
  }
}

TEST(JobClock, every_assumption_is_named_with_its_number) {
  Machine m = machineOf(500, 5000, 0.02);
  m.tool_change_s = 75;
  m.spindle_start_s = 3.5;
  m.blocks_per_second = 120;
  const clock::TimeAssumptions a = clock::timeAssumptions(m);
  const auto says = [](const std::vector<std::string>& list, std::string_view words) {
    for (const std::string& s : list)
      if (s.find(words) != std::string::npos) return true;
    return false;
  };
  EXPECT_TRUE(says(a.time, "0.02 mm"));
  EXPECT_TRUE(says(a.time, "75 s"));
  EXPECT_TRUE(says(a.time, "3.5 s"));
  EXPECT_TRUE(says(a.time, "120 blocks"));
  EXPECT_TRUE(says(a.high, "30 % lower"));
  EXPECT_TRUE(says(a.low, "take no time"));
  m.look_ahead_blocks = 12;
  m.jerk_mm_s3 = 4000;
  m.spindle_stop_s = 6.5;
  for (const std::vector<std::string>& list : {clock::timeAssumptions(m).time, clock::timeAssumptions(m).high}) {
    EXPECT_TRUE(says(list, "12 blocks"));
    EXPECT_TRUE(says(list, "4000 mm/s³"));
    EXPECT_TRUE(says(list, "6.5 s"));
  }
  EXPECT_TRUE(says(clock::timeAssumptions(m).low, "0.6 of the weaker axis"));
  m.arc_acceleration = ArcAcceleration::apart;
  EXPECT_TRUE(says(clock::timeAssumptions(m).low, "limited separately"));
  Program rounded = line();
  rounded.path_control = {{0, PathControl::tolerance, 0.05}, {1, PathControl::exact_path, 0}};
  Programs programs;
  programs.add(rounded);
  const clock::TimeAssumptions of_job = clock::timeAssumptions(jobOf({1}, m), programs);
  for (const std::vector<std::string>& list : {of_job.time, of_job.low, of_job.high}) {
    EXPECT_TRUE(says(list, "within 0.05 mm"));
    EXPECT_TRUE(says(list, "G61"));
    EXPECT_FALSE(says(list, "X0 Y0") || says(list, "where each program begins"));
  }
  // An approach from an unknown position is named in all three.
  rounded.motions.front().flags |= motion_approach;
  const clock::TimeAssumptions with_approach = clock::timeAssumptions(jobOf({1}, m), programs);
  EXPECT_TRUE(says(with_approach.time, "start over X0 Y0 with Z fully up"));
  EXPECT_TRUE(says(with_approach.low, "where each program begins"));
  EXPECT_TRUE(says(with_approach.high, "start over X0 Y0 with Z fully up"));
  m.cornering = Cornering::exact_stop;
  EXPECT_TRUE(says(clock::timeAssumptions(m).time, "stop at the end of every block"));
}

}  // namespace
}  // namespace provecut
