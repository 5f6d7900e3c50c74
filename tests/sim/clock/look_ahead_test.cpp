// A machine that sees only some blocks ahead must be able to stop within them (v <= sqrt(2 a N L)).
#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "sim/clock/clock.h"
#include "tests/sim/clock/program_maker.h"
#include "tests/sim/clock/random_path.h"

namespace provecut {
namespace {

using test::machineOf;
using test::ProgramMaker;
using test::RandomPath;
using test::within;

Machine seeing(int blocks, double acceleration) {
  Machine m = machineOf(acceleration);
  m.look_ahead_blocks = blocks;
  return m;
}

double steadySpeed(int blocks, double block_mm, double acceleration) {
  ProgramMaker maker;
  for (int k = 1; k <= 2000; ++k) maker.feed({k * block_mm, 0, 0}, 60000);
  clock::PlanOptions keep;
  keep.keep_speeds = true;
  return clock::plan(maker.program, seeing(blocks, acceleration), keep).speeds[1000].entry_mm_s * 60;
}

TEST(LookAhead, of_n_short_blocks_sets_the_speed) {
  EXPECT_NEAR(steadySpeed(16, 0.1, 500), 2400, within(2400));  // sqrt(2 a N L)
  EXPECT_NEAR(steadySpeed(16, 0.05, 200), 1073.3126292, within(1073.3126292));
}

// Window by window, from rest at the far end of each, as the machine itself would do it.
TEST(LookAhead, at_every_joint_the_blocks_seen_are_enough_to_stop_in) {
  clock::PlanOptions keep;
  keep.keep_speeds = true;
  int held = 0;
  for (unsigned seed = 1001; seed <= 1040; ++seed) {
    RandomPath random(seed);
    Machine machine = random.machine();
    const Program program = random.program(100);
    machine.look_ahead_blocks = 1 + random.oneOf(6);
    const std::size_t seen = static_cast<std::size_t>(machine.look_ahead_blocks);
    const clock::Plan p = clock::plan(program, machine, keep);
    for (std::size_t i = 0; i < p.speeds.size(); ++i) {
      double most2 = 0;
      for (std::size_t k = std::min(i + seen, p.speeds.size()); k-- > i;)
        most2 += 2 * p.speeds[k].acceleration_mm_s2 * p.speeds[k].length_mm;
      const double entry2 = p.speeds[i].entry_mm_s * p.speeds[i].entry_mm_s;
      ASSERT_LE(entry2, most2 * (1 + 1e-9) + 1e-6) << "seed " << seed << ", move " << i;
      held += entry2 > most2 * (1 - 1e-6) && entry2 > 0;
    }
  }
  EXPECT_GT(held, 100);  // else the limit was never met and nothing was shown
}

TEST(LookAhead, seeing_farther_never_takes_longer_and_seeing_all_is_no_limit) {
  for (unsigned seed = 1041; seed <= 1080; ++seed) {
    RandomPath random(seed);
    Machine machine = random.machine();
    const Program program = random.program(60);
    const double whole = clock::plan(program, machine).time.total_s();
    double before = 1e300;
    for (int blocks : {1, 2, 3, 5, 8, 16, 64, 100000}) {
      machine.look_ahead_blocks = blocks;
      const double now = clock::plan(program, machine).time.total_s();
      EXPECT_LE(now, before * (1 + 1e-12)) << "seed " << seed << ", " << blocks;
      EXPECT_GE(now, whole * (1 - 1e-12));
      before = now;
    }
    EXPECT_DOUBLE_EQ(before, whole);
  }
}

}  // namespace
}  // namespace provecut
