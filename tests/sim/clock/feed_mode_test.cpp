// From program text to time: feed modes and canned cycles. Inverse time: NISTIR 6556 3.5.21.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <string>

#include "parser/interpreter/interpreter.h"
#include "sim/clock/clock.h"
#include "tests/sim/clock/program_maker.h"

namespace provecut {
namespace {

using test::machineOf;
using test::within;

// Rest to rest.
double strokeTime(double length_mm, double speed_mm_s, double acceleration_mm_s2) {
  return length_mm >= speed_mm_s * speed_mm_s / acceleration_mm_s2
             ? length_mm / speed_mm_s + speed_mm_s / acceleration_mm_s2
             : 2 * std::sqrt(length_mm / acceleration_mm_s2);
}

TEST(InverseTime, gives_the_minutes_that_a_block_takes) {
  const Program p = interpret("G21 G90 G17 G93\nG1 X30 Y40 F2.5\nM2\n");
  ASSERT_EQ(p.motions.size(), 1U);
  EXPECT_FLOAT_EQ(p.motions[0].feed_mm_min, 125);  // one turn: sqrt((2 π r)² + p²)
  Machine m = machineOf(500);
  EXPECT_NEAR(clock::plan(p, m).time.total_s(), 24 + 125.0 / 60 / (500 / 0.8),
              1e-9);  // 24 s, and v/a in the direction (0.6, 0.8)
  // A whole circle in half a minute, in inches: the number means the same.
  const Program circle = interpret("G20 G90 G17 G93\nG3 I1 F2\nM2\n");
  EXPECT_NEAR(static_cast<double>(circle.motions.at(0).feed_mm_min), 2 * 2 * std::numbers::pi * 25.4, 1e-3);
  EXPECT_NEAR(clock::plan(circle, machineOf(1e6)).time.total_s(), 30, 1e-3);
}

TEST(FeedPerRevolution, is_multiplied_by_the_speed) {
  const Program p = interpret("G21 G90 G17 S12000 M3\nG95 G1 X50 F0.1\nG94 X0 F600\nM2\n");
  ASSERT_EQ(p.motions.size(), 2U);
  EXPECT_FLOAT_EQ(p.motions[0].feed_mm_min, 1200);
  EXPECT_FLOAT_EQ(p.motions[1].feed_mm_min, 600);
  ASSERT_EQ(p.features.size(), 1U);
  EXPECT_EQ(p.features[0].feature, "feed-per-revolution");  // the machine may not accept it
  EXPECT_FLOAT_EQ(interpret("G20 G90 G17 S1000 M3\nG95 G1 X5 F0.01\nM2\n").motions.at(0).feed_mm_min, 254);
}

TEST(FeedPerRevolution, needs_a_speed_and_a_feed_of_its_own) {
  const Program still = interpret("G21 G90 G17\nG95 G1 X50 F0.1\nM2\n");
  ASSERT_EQ(still.problems.size(), 1U);
  EXPECT_EQ(still.problems[0].id, "feed-missing");
  const Program old = interpret("G21 G90 G17 S1000 M3\nG1 X10 F600\nG95 X50\nM2\n");
  ASSERT_EQ(old.problems.size(), 1U);
  EXPECT_EQ(old.problems[0].id, "feed-missing");
  InterpreterOptions strict;
  strict.strict = true;
  bool refused = false;
  for (const Problem& problem : interpret("G21 G90 G17 S1000 M3\nG95 G1 X50 F0.1\nM2\n", strict).problems)
    refused = refused || problem.place.line == 2;
  EXPECT_TRUE(refused);
}

TEST(CannedCycle, takes_the_time_of_its_moves_and_retracts) {
  // Up to a clear height of 5, then per hole: across at the clear height, down to 2 at rapid, drill to -8 at the feed,
  // up to 5.
  const Program p = interpret("G21 G90 G17 G94 G0 X0 Y0 Z5\nG98 G81 X10 Y0 R2 Z-8 F600\nX40\nG80\nM2\n");
  Machine m = machineOf(500, 6000);
  m.cornering = Cornering::exact_stop;
  const clock::Plan timed = clock::plan(p, m);
  const double across = strokeTime(10, 100, 500) + strokeTime(30, 100, 500), down = 2 * strokeTime(3, 100, 500),
               up = 2 * strokeTime(13, 100, 500);
  EXPECT_NEAR(timed.time.cutting_s, 2 * strokeTime(10, 10, 500), 1e-9);
  const double first = static_cast<double>(timed.move_s.at(0));  // to the clear height
  EXPECT_NEAR(timed.time.rapid_s - first, across + down + up, 1e-6);
}

TEST(CannedCycle, pecks_and_dwells_take_their_time) {
  // G83 in pecks of 4 to -10: feeds 6, 4 and 2 mm from 2; between them out to R and back to 0.254 above (NISTIR
  // 6556 3.5.16.4).
  const Program p = interpret("G21 G90 G17 G94 G0 X0 Y0 Z2\nG99 G83 X0 Y0 R2 Z-10 Q4 F600\nG80\nM2\n");
  Machine m = machineOf(500, 6000);
  m.cornering = Cornering::exact_stop;
  double feed_mm = 0;
  for (const Motion& motion : p.motions)
    if (motion.kind == MotionKind::feed) feed_mm += motion.start.z - motion.end.z;
  EXPECT_NEAR(feed_mm, 4 + 4 + 4 + 2 * 0.254, 1e-6);
  const Program d = interpret("G21 G90 G17 G94 G0 X0 Y0 Z2\nG99 G82 X0 Y0 R2 Z-10 P0.5 F600\nX5\nX10\nG80\nM2\n");
  EXPECT_DOUBLE_EQ(clock::plan(d, m).time.dwell_s, 1.5);
}

}  // namespace
}  // namespace provecut
