#include "report/facts/spindle_by_hand.h"

#include <gtest/gtest.h>

namespace provecut {
namespace {

// Two tools, the second with a speed of its own to dial; the program's own words ask for 9,000 and M3.
struct ByHand : ::testing::Test {
  Job job;
  ProgramEntry entry;
  Program program;

  ByHand() {
    for (const int number : {1, 2}) job.tools.emplace_back().number = number;
    job.tools[1].rpm = 16000;
    for (const int number : {1, 2}) {
      Motion& m = program.motions.emplace_back();
      m.tool = number;
      m.rpm = 9000;
    }
    program.events = {{EventKind::spindle_start, 0, 9000, {}, {}}, {EventKind::stop, 1, 0, {}, {}}};
  }
  void set() { setSpindleByHand(job, entry, program); }
};

TEST_F(ByHand, a_spindle_that_the_program_drives_is_left_alone) {
  set();
  EXPECT_EQ(program.motions[1].rpm, 9000);
  EXPECT_EQ(program.motions[1].spindle, Spindle::off);
  EXPECT_EQ(program.events.size(), 2u);
}

TEST_F(ByHand, the_dial_goes_by_the_program_s_entry_then_the_tool_then_the_s_word) {
  job.machine.speed_by_hand = true;
  set();
  EXPECT_EQ(program.motions[0].rpm, 9000);
  EXPECT_EQ(program.motions[1].rpm, 16000);
  EXPECT_EQ(program.motions[1].spindle, Spindle::off);  // M3 is still the program's
  entry.rpm = 12000;
  set();
  EXPECT_EQ(program.motions[0].rpm, 12000);
  EXPECT_EQ(program.motions[1].rpm, 12000);
}

TEST_F(ByHand, one_switched_by_hand_turns_all_the_while_and_takes_no_time_to_start) {
  job.machine.spindle_by_hand = true;
  set();
  for (const Motion& m : program.motions) EXPECT_EQ(m.spindle, Spindle::cw);
  ASSERT_EQ(program.events.size(), 1u);
  EXPECT_EQ(program.events[0].kind, EventKind::stop);
}

}  // namespace
}  // namespace provecut
