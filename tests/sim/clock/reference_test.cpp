// The plan against an independent reference: the same limits put on a fine grid along the path and the speed stepped
// from point to point, no closed form used; and the properties that any plan must have.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <vector>

#include "parser/interpreter/interpreter.h"
#include "sim/clock/clock.h"
#include "tests/paths.h"
#include "tests/sim/clock/program_maker.h"
#include "tests/sim/clock/random_path.h"
#include "tests/sim/clock/stepped_profile.h"

namespace provecut {
namespace {

using namespace test;

TEST(Reference, a_hundred_random_programs_take_the_time_of_the_stepped_profile) {
  for (unsigned seed = 1; seed <= 100; ++seed) {
    RandomPath random(seed);
    const Machine machine = random.machine();
    const Program program = random.program(40);
    const double expected = steppedTime(program, machine);
    EXPECT_NEAR(clock::plan(program, machine).time.total_s(), expected, 2e-4 * expected) << "seed " << seed;
  }
}

// Programs that people exported; they lie outside the project, and without them this is skipped.
TEST(Reference, exported_programs_take_the_time_of_the_stepped_profile) {
  namespace fs = std::filesystem;
  const fs::path folder = fs::path(PROVECUT_SOURCE_DIR) / ".." / "shared" / "corpus";
  if (!fs::exists(folder / "INDEX.tsv")) GTEST_SKIP() << "the exported programs are not here: " << folder;
  Machine uneven = machineOf(500);
  uneven.max_rate_mm_min = {6000, 4000, 1200};
  uneven.acceleration_mm_s2 = {700, 400, 150};
  const Fineness coarser{120, 240, 500};
  int compared = 0;
  for (const fs::directory_entry& entry : fs::directory_iterator(folder)) {
    std::ifstream in(entry.path(), std::ios::binary);
    const Program program = interpret(std::string{std::istreambuf_iterator<char>(in), {}});
    if (entry.path().extension() == ".tsv" || program.motions.size() < 10 || program.motions.size() > 15000) continue;
    const double expected = steppedTime(program, uneven, coarser);
    const TimeSpent planned = clock::plan(program, uneven).time;
    EXPECT_NEAR(planned.cutting_s + planned.rapid_s, expected, 1e-3 * expected) << entry.path().filename();
    ++compared;
  }
  EXPECT_GT(compared, 40);
}

TEST(EveryPlan, keeps_every_axis_within_its_rate_and_acceleration_and_never_runs_backwards) {
  clock::PlanOptions keep;
  keep.keep_speeds = true;
  for (unsigned seed = 101; seed <= 160; ++seed) {
    RandomPath random(seed);
    Machine machine = random.machine();
    machine.arc_acceleration = ArcAcceleration::apart;  // shared: shared_arc_test.cpp, with both accelerations together
    const Program program = random.program(60);
    const clock::Plan p = clock::plan(program, machine, keep);
    const auto rate = parts(machine.max_rate_mm_min * (1 / 60.0));
    const auto most = parts(machine.acceleration_mm_s2);
    double speed_before = 0;
    for (std::size_t i = 0; i < program.motions.size(); ++i) {
      const Motion& m = program.motions[i];
      const clock::MoveSpeed& s = p.speeds[i];
      SCOPED_TRACE(testing::Message() << "seed " << seed << ", move " << i);
      ASSERT_NEAR(s.length_mm, lengthOf(m), 1e-5 * s.length_mm);
      ASSERT_DOUBLE_EQ(s.entry_mm_s, speed_before);
      speed_before = s.exit_mm_s;
      if (i > 0) {
        const double corner2 = sampledCorner2(lastDirection(program.motions[i - 1]), firstDirection(m), machine,
                                              machine.junction_deviation_mm);
        ASSERT_LE(s.entry_mm_s * s.entry_mm_s, corner2 * (1 + 1e-5));
      }
      // Speed by steps along the move: up from the entry, capped, in time to brake for the exit.
      double time_s = 0, before = s.entry_mm_s;
      const int steps = 400;
      for (int k = 0; k <= steps; ++k) {
        const double share = static_cast<double>(k) / steps, at_mm = share * s.length_mm;
        const double up2 = s.entry_mm_s * s.entry_mm_s + 2 * s.acceleration_mm_s2 * at_mm;
        const double down2 = s.exit_mm_s * s.exit_mm_s + 2 * s.acceleration_mm_s2 * (s.length_mm - at_mm);
        const double v = std::min({std::sqrt(up2), std::sqrt(down2), s.limit_mm_s});
        ASSERT_GE(v, 0);
        ASSERT_LE(v, s.peak_mm_s * (1 + 1e-9));
        if (k == 0) {
          ASSERT_NEAR(v, s.entry_mm_s, 1e-9 * (1 + v));
        } else {
          time_s += 2 * (s.length_mm / steps) / (v + before);
          if (k == steps) {
            ASSERT_NEAR(v, s.exit_mm_s, 1e-9 * (1 + v));
          }
        }
        before = v;
        const double inside = std::clamp(share, 1e-4, 1 - 1e-4);
        const auto t = parts(directionOn(m, inside));
        const Vec3 bend = isStraight(m) ? Vec3{}
                                        : (directionOn(m, inside + 5e-5) - directionOn(m, inside - 5e-5)) *
                                              (1 / (1e-4 * s.length_mm));
        const auto b = parts(bend);
        for (std::size_t axis = 0; axis < 3; ++axis) {
          ASSERT_LE(v * t[axis], rate[axis] * (1 + 1e-6));
          ASSERT_LE(s.acceleration_mm_s2 * t[axis], most[axis] * (1 + 1e-6));
          ASSERT_LE(v * v * b[axis], most[axis] * (1 + 1e-4));
        }
        if (m.kind != MotionKind::rapid) {
          ASSERT_LE(v * 60, static_cast<double>(m.feed_mm_min) * (1 + 1e-6));
        }
      }
      ASSERT_NEAR(static_cast<double>(p.move_s[i]), time_s, 2e-2 * time_s);
    }
    ASSERT_EQ(speed_before, 0);
  }
}

TEST(EveryPlan, higher_limits_never_take_longer) {
  for (unsigned seed = 201; seed <= 260; ++seed) {
    RandomPath random(seed);
    Machine machine = random.machine();
    machine.blocks_per_second = random.oneOf(3) == 0 ? random.between(20, 400) : 0;
    if (random.oneOf(4) == 0) machine.cornering = Cornering::exact_stop;
    if (random.oneOf(4) == 0) machine.rapids = Rapids::independent;
    const Program program = random.program(80);
    const double before = clock::plan(program, machine).time.total_s();
    const double more = 1 + random.between(0, 1);
    std::vector<Machine> better(9, machine);
    better[0].max_rate_mm_min.x *= more;
    better[1].max_rate_mm_min.y *= more;
    better[2].max_rate_mm_min.z *= more;
    better[3].acceleration_mm_s2.x *= more;
    better[4].acceleration_mm_s2.y *= more;
    better[5].acceleration_mm_s2.z *= more;
    better[6].junction_deviation_mm *= more;
    better[7].blocks_per_second *= more;
    better[8].cornering = Cornering::junction_deviation;
    for (std::size_t i = 0; i < better.size(); ++i)
      EXPECT_LE(clock::plan(program, better[i]).time.total_s(), before * (1 + 1e-12))
          << "seed " << seed << ", limit " << i;
    clock::PlanOptions faster;
    faster.feed_override = more;
    EXPECT_LE(clock::plan(program, machine, faster).time.total_s(), before * (1 + 1e-12)) << "seed " << seed;
  }
}

TEST(EveryPlan, is_no_faster_than_its_length_at_its_limits_and_no_slower_than_stopping_at_every_block) {
  for (unsigned seed = 301; seed <= 340; ++seed) {
    RandomPath random(seed);
    Machine machine = random.machine();
    const Program program = random.program(60);
    clock::PlanOptions keep;
    keep.keep_speeds = true;
    const clock::Plan p = clock::plan(program, machine, keep);
    double least_s = 0;
    for (const clock::MoveSpeed& s : p.speeds) least_s += s.length_mm / s.limit_mm_s;
    EXPECT_GT(p.time.total_s(), least_s);
    machine.cornering = Cornering::exact_stop;
    EXPECT_LT(p.time.total_s(), clock::plan(program, machine).time.total_s());
  }
}

TEST(EveryPlan, of_a_split_move_is_the_plan_of_the_whole_move) {
  for (unsigned seed = 401; seed <= 420; ++seed) {
    RandomPath random(seed);
    const Machine machine = random.machine();
    Program whole = random.program(30), split;
    for (const Motion& m : whole.motions) {
      if (isArc(m) || length(m.end - m.start) < 1e-3) {
        split.motions.push_back(m);
        continue;
      }
      const int pieces = 1 + random.oneOf(6);
      Motion piece = m;
      for (int k = 1; k <= pieces; ++k) {
        piece.end = k == pieces ? m.end : pointOn(m, static_cast<double>(k) / pieces);
        split.motions.push_back(piece);
        piece.start = piece.end;
      }
    }
    const double expected = clock::plan(whole, machine).time.total_s();
    EXPECT_NEAR(clock::plan(split, machine).time.total_s(), expected, 1e-9 * expected) << "seed " << seed;
  }
}

}  // namespace
}  // namespace provecut
