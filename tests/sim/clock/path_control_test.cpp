// G61, G61.1 and G64 P: how corners are driven. A corner rounded to the deviation δ has the radius
// δ s / (1 - s), s = sin(θ/2), and is driven at sqrt(a r). Worked by hand in 40 digits.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "parser/interpreter/interpreter.h"
#include "sim/clock/clock.h"
#include "tests/sim/clock/program_maker.h"
#include "tests/sim/clock/random_path.h"

namespace provecut {
namespace {

using test::machineOf;
using test::ProgramMaker;
using test::RandomPath;
using test::within;

Program controlled(Program program, PathControl control, double tolerance_mm = 0, std::uint32_t from = 0) {
  program.path_control.push_back({from, control, tolerance_mm});
  return program;
}

double timeOf(const Program& program, const Machine& machine) {
  return clock::plan(program, machine).time.total_s();
}

double cornerSpeed(const Program& program, const Machine& machine, std::size_t move = 1) {
  clock::PlanOptions keep;
  keep.keep_speeds = true;
  return clock::plan(program, machine, keep).speeds[move].corner_mm_s;
}

Program square() {
  return ProgramMaker()
      .feed({100, 0, 0}, 3000)
      .feed({100, 100, 0}, 3000)
      .feed({0, 100, 0}, 3000)
      .feed({0, 0, 0}, 3000)
      .program;
}

TEST(PathTolerance, lets_a_corner_be_driven_on_the_arc_that_stays_within_it) {
  // P 0.1 at 90 degrees: radius 0.2414213562373; v = sqrt(a r).
  const double expected = std::sqrt(500 * 0.2414213562373);
  EXPECT_NEAR(cornerSpeed(controlled(square(), PathControl::tolerance, 0.1), machineOf(500)), expected,
              within(expected));
  // P in place of the machine's own deviation: the same number gives the same time.
  EXPECT_DOUBLE_EQ(timeOf(controlled(square(), PathControl::tolerance, 0.01), machineOf(500)),
                   timeOf(square(), machineOf(500)));
}

TEST(PathTolerance, the_arc_takes_no_more_than_half_of_the_shorter_move) {
  // A large tolerance and moves of 2 and 100: the arc starts 1 mm before the corner; at 90 degrees its radius is 1 as
  // well.
  const Program p =
      controlled(ProgramMaker().feed({2, 0, 0}, 6000).feed({2, 100, 0}, 6000).program, PathControl::tolerance, 50);
  EXPECT_NEAR(cornerSpeed(p, machineOf(500)), std::sqrt(500.0), 1e-9);  // sqrt(a r)
  // At 120 degrees between the moves: radius = room * tan(60 degrees).
  const Program q =
      controlled(ProgramMaker().feed({4, 0, 0}, 6000).feed({4 + 10 * 0.5, 10 * std::sqrt(0.75), 0}, 6000).program,
                 PathControl::tolerance, 50);
  EXPECT_NEAR(cornerSpeed(q, machineOf(500)), std::sqrt(500 * 2 * std::sqrt(3.0)), 1e-9);
}

TEST(PathTolerance, short_chords_of_a_circle_are_driven_like_the_circle) {
  // The arc between the middles of neighbouring chords touches both: its radius is that of the circle inside the
  // polygon.
  for (int n : {36, 90, 360}) {
    ProgramMaker maker;
    const double r = 10;
    maker.rapid({r, 0, 0});
    for (int k = 1; k <= n; ++k)
      maker.feed({r * std::cos(2 * std::numbers::pi * k / n), r * std::sin(2 * std::numbers::pi * k / n), 0}, 60000);
    const double inside = r * std::cos(std::numbers::pi / n);
    EXPECT_NEAR(cornerSpeed(controlled(maker.program, PathControl::tolerance, 10), machineOf(500),
                            static_cast<std::size_t>(n / 4 + 1)),
                std::sqrt(500 * inside),
                1e-9);  // where the bend's middle looks along Y, so that one axis bears it alone
  }
}

TEST(ExactStop, of_the_program_is_that_of_the_machine) {
  EXPECT_NEAR(timeOf(controlled(square(), PathControl::exact_stop), machineOf(500)), 8.4,
              within(8.4));  // exact stop
}

TEST(ExactPath, all_but_halts_in_a_corner_and_runs_on_where_the_path_is_smooth) {
  const double exact = timeOf(controlled(square(), PathControl::exact_path), machineOf(500));
  EXPECT_LT(exact, 8.4);
  EXPECT_GT(exact, 8.395);
  // A line, its tangent quarter and a line: d/v + v/a as one straight.
  const Program smooth = controlled(ProgramMaker()
                                        .feed({50, 0, 0}, 3000)
                                        .arc(MotionKind::arc_ccw, Plane::xy, {50, 20}, {70, 20, 0}, 3000)
                                        .feed({70, 70, 0}, 3000)
                                        .program,
                                    PathControl::exact_path);
  const double expected = (100 + 10 * std::numbers::pi) / 50 + 50.0 / 500;
  EXPECT_NEAR(timeOf(smooth, machineOf(500)), expected, within(expected));
}

TEST(PathControl, holds_from_its_line_on_and_a_corner_on_the_border_obeys_both) {
  // Corners 1 and 2 of the square free, 3 a halt: half way between.
  Program p = controlled(square(), PathControl::exact_stop, 0, 3);
  clock::PlanOptions keep;
  keep.keep_speeds = true;
  const clock::Plan plan_ = clock::plan(p, machineOf(500), keep);
  EXPECT_GT(plan_.speeds[1].corner_mm_s, 3.4);
  EXPECT_GT(plan_.speeds[2].corner_mm_s, 3.4);
  EXPECT_EQ(plan_.speeds[3].corner_mm_s, 0);
  // The other way round: exact stop up to the third move.
  p = controlled(square(), PathControl::exact_stop);
  p.path_control.push_back({2, PathControl::as_set, 0});
  const clock::Plan other = clock::plan(p, machineOf(500), keep);
  EXPECT_EQ(other.speeds[1].corner_mm_s, 0);
  EXPECT_EQ(other.speeds[2].corner_mm_s, 0);
  EXPECT_GT(other.speeds[3].corner_mm_s, 3.4);
}

TEST(PathControl, a_machine_set_to_exact_stop_halts_whatever_the_program_says) {
  Machine m = machineOf(500);
  m.cornering = Cornering::exact_stop;
  EXPECT_NEAR(timeOf(controlled(square(), PathControl::tolerance, 1), m), 8.4, within(8.4));
}

TEST(PathControl, a_larger_tolerance_or_higher_limits_never_take_longer) {
  for (unsigned seed = 901; seed <= 1000; ++seed) {
    RandomPath random(seed);
    const Machine machine = random.machine();
    const Program program = random.program(80);
    double before = timeOf(controlled(program, PathControl::exact_stop), machine);
    const double exact = timeOf(controlled(program, PathControl::exact_path), machine);
    EXPECT_LE(exact, before * (1 + 1e-12)) << "seed " << seed;
    before = exact;
    for (double tolerance : {0.0, 1e-5, 0.001, 0.004, 0.01, 0.05, 0.2, 1.0, 10.0, 1000.0}) {
      const double now = timeOf(controlled(program, PathControl::tolerance, tolerance), machine);
      EXPECT_LE(now, before * (1 + 1e-12)) << "seed " << seed << ", P " << tolerance;
      before = now;
    }
    const double more = 1 + random.between(0, 1), tolerance = std::exp(random.between(-7, 1));
    before = timeOf(controlled(program, PathControl::tolerance, tolerance), machine);
    for (int k = 0; k < 6; ++k) {
      Machine better = machine;
      Vec3& limits = k < 3 ? better.max_rate_mm_min : better.acceleration_mm_s2;
      (k % 3 == 0 ? limits.x : k % 3 == 1 ? limits.y : limits.z) *= more;
      EXPECT_LE(timeOf(controlled(program, PathControl::tolerance, tolerance), better), before * (1 + 1e-12))
          << "seed " << seed << ", limit " << k;
    }
  }
}

TEST(PathControl, is_read_from_the_program) {
  const Program p =
      interpret("G21 G90 G94 F1000\nG1 X10\nG64 P0.05\nG1 Y10\nG61\nX0\nG61.1\nY0\nG64\nX10\nG20 G64 P0.001\nX1\nM2\n");
  ASSERT_EQ(p.path_control.size(), 5U);
  EXPECT_EQ(p.path_control[0].control, PathControl::tolerance);
  EXPECT_EQ(p.path_control[0].before_motion, 1U);
  EXPECT_DOUBLE_EQ(p.path_control[0].tolerance_mm, 0.05);
  EXPECT_EQ(p.path_control[1].control, PathControl::exact_path);
  EXPECT_EQ(p.path_control[2].control, PathControl::exact_stop);
  EXPECT_EQ(p.path_control[3].control, PathControl::as_set);
  EXPECT_DOUBLE_EQ(p.path_control[4].tolerance_mm, 0.0254);
  EXPECT_TRUE(p.problems.empty());
  const Program below = interpret("G21 G90 G94 F1000\nG64 P-1\nG1 X10\nM2\n");
  ASSERT_EQ(below.problems.size(), 1U);
  EXPECT_EQ(below.problems[0].id, "word-negative");
  EXPECT_EQ(below.path_control.at(0).control, PathControl::as_set);
}

}  // namespace
}  // namespace provecut
