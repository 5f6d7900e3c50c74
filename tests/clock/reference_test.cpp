// The plan against an independent reference: the same limits put on a fine grid along the path and the speed stepped
// from point to point, no closed form used; and the properties that any plan must have.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <vector>

#include "sim/clock.h"
#include "tests/clock/program_maker.h"
#include "tests/clock/random_path.h"

namespace provecut {
namespace {

using test::directionOn;
using test::pointOn;
using test::RandomPath;

constexpr int grid = 600;  // steps per move

std::array<double, 3> parts(const Vec3& v) { return {std::fabs(v.x), std::fabs(v.y), std::fabs(v.z)}; }

double lengthOf(const Motion& m) {
  double sum = 0;
  Vec3 at = m.start;
  for (int k = 1; k <= 4000; ++k) {
    const Vec3 next = pointOn(m, k / 4000.0);
    sum += length(next - at);
    at = next;
  }
  return sum;
}

bool isStraight(const Motion& m) { return !isArc(m); }

// Direction at an end, by a one-sided difference of second order; `inward` 1 at the start, -1 at the end.
Vec3 endDirection(const Motion& m, double share, double inward) {
  const double h = 1e-4;
  const Vec3 way = pointOn(m, share) * -3 + pointOn(m, share + inward * h) * 4 - pointOn(m, share + inward * 2 * h);
  return way * (inward / length(way));
}
Vec3 firstDirection(const Motion& m) { return endDirection(m, 0, 1); }
Vec3 lastDirection(const Motion& m) { return endDirection(m, 1, -1); }

// Share of the way that goes round, not along the axis of a helix.
double roundShare(const Motion& m, const Vec3& direction) {
  if (isStraight(m)) return 1;
  const double climb = m.plane == Plane::xy ? direction.z : m.plane == Plane::zx ? direction.y : direction.x;
  return std::sqrt(1 - climb * climb);
}

struct Limits1 {
  double speed = 0, acceleration = 0, length = 0;
};

// Limits of one move from its sampled directions: each axis' rate, its acceleration along and across. A helix speeds up
// no faster than the circle under it.
Limits1 sampledLimits(const Motion& m, const Machine& machine) {
  Limits1 out;
  out.length = lengthOf(m);
  const auto rate = parts(machine.max_rate_mm_min * (1 / 60.0));
  const auto acceleration = parts(machine.acceleration_mm_s2);
  out.speed = m.kind == MotionKind::rapid ? 1e12 : static_cast<double>(m.feed_mm_min) / 60;
  out.acceleration = 1e12;
  const int samples = isStraight(m) ? 1 : 2000;
  for (int k = 0; k <= samples; ++k) {
    const double share = 1e-4 + (1 - 2e-4) * k / samples;
    const Vec3 direction = directionOn(m, share);
    const auto t = parts(direction);
    std::array<double, 3> round{};
    round.fill(roundShare(m, direction));
    if (isArc(m)) round[m.plane == Plane::xy ? 2 : m.plane == Plane::zx ? 1 : 0] = 1;
    for (std::size_t axis = 0; axis < 3; ++axis) {
      if (t[axis] < 1e-9) continue;
      out.speed = std::min(out.speed, rate[axis] / t[axis]);
      out.acceleration = std::min(out.acceleration, acceleration[axis] / t[axis] * round[axis]);
    }
    if (isStraight(m)) continue;
    // Curvature vector d(direction)/ds.
    const double h = 1e-4;
    const Vec3 bend = (directionOn(m, share + h / 2) - directionOn(m, share - h / 2)) * (1 / (h * out.length));
    const auto b = parts(bend);
    for (std::size_t axis = 0; axis < 3; ++axis)
      if (b[axis] > 1e-7) out.speed = std::min(out.speed, std::sqrt(acceleration[axis] / b[axis]));
  }
  return out;
}

// F17 (geometry) with the axes' accelerations sampled round the corner's arc.
double sampledCorner2(const Vec3& u, const Vec3& w, const Machine& machine) {
  const double cosine = std::clamp(dot(u, w), -1.0, 1.0);
  const double turn = std::acos(cosine);
  if (turn < 1e-6) return 1e12;
  const double s = std::cos(turn / 2);
  if (s < 1e-9) return 0;
  const double radius = machine.junction_deviation_mm * s / (1 - s);
  const auto acceleration = parts(machine.acceleration_mm_s2);
  double least = 1e12;
  for (int k = 0; k <= 400; ++k) {
    const double a = turn * k / 400;
    const auto n = parts((w * std::cos(a) - u * std::cos(turn - a)) * (1 / std::sin(turn)));
    for (std::size_t axis = 0; axis < 3; ++axis)
      if (n[axis] > 1e-9) least = std::min(least, acceleration[axis] / n[axis]);
  }
  return least * radius;
}

double steppedTime(const Program& program, const Machine& machine) {
  std::vector<double> speed2, step_mm, acceleration;
  for (std::size_t i = 0; i < program.motions.size(); ++i) {
    const Motion& m = program.motions[i];
    const Limits1 limits = sampledLimits(m, machine);
    const double corner2 = i == 0 ? 0 : sampledCorner2(lastDirection(program.motions[i - 1]), firstDirection(m), machine);
    const double cap2 = limits.speed * limits.speed;
    if (!speed2.empty()) speed2.back() = std::min({speed2.back(), cap2, corner2});
    else speed2.push_back(0);
    for (int k = 0; k < grid; ++k) {
      speed2.push_back(cap2);
      // Finer towards the ends, where the speed changes.
      const auto node = [&](int n) { return limits.length * 0.5 * (1 - std::cos(std::numbers::pi * n / grid)); };
      step_mm.push_back(node(k + 1) - node(k));
      acceleration.push_back(limits.acceleration);
    }
  }
  speed2.back() = 0;
  for (std::size_t k = 1; k < speed2.size(); ++k)
    speed2[k] = std::min(speed2[k], speed2[k - 1] + 2 * acceleration[k - 1] * step_mm[k - 1]);
  for (std::size_t k = speed2.size() - 1; k-- > 0;)
    speed2[k] = std::min(speed2[k], speed2[k + 1] + 2 * acceleration[k] * step_mm[k]);
  double time_s = 0;
  for (std::size_t k = 0; k < step_mm.size(); ++k) time_s += 2 * step_mm[k] / (std::sqrt(speed2[k]) + std::sqrt(speed2[k + 1]));
  return time_s;
}

TEST(Reference, a_hundred_random_programs_take_the_time_of_the_stepped_profile) {
  for (unsigned seed = 1; seed <= 100; ++seed) {
    RandomPath random(seed);
    const Machine machine = random.machine();
    const Program program = random.program(40);
    const double expected = steppedTime(program, machine);
    EXPECT_NEAR(plan(program, machine).time.total_s(), expected, 2e-4 * expected) << "seed " << seed;
  }
}

TEST(EveryPlan, keeps_every_axis_within_its_rate_and_acceleration_and_never_runs_backwards) {
  PlanOptions keep;
  keep.keep_speeds = true;
  for (unsigned seed = 101; seed <= 160; ++seed) {
    RandomPath random(seed);
    const Machine machine = random.machine();
    const Program program = random.program(60);
    const Plan p = plan(program, machine, keep);
    const auto rate = parts(machine.max_rate_mm_min * (1 / 60.0));
    const auto most = parts(machine.acceleration_mm_s2);
    double speed_before = 0;
    for (std::size_t i = 0; i < program.motions.size(); ++i) {
      const Motion& m = program.motions[i];
      const MoveSpeed& s = p.speeds[i];
      SCOPED_TRACE(testing::Message() << "seed " << seed << ", move " << i);
      ASSERT_NEAR(s.length_mm, lengthOf(m), 1e-5 * s.length_mm);
      ASSERT_DOUBLE_EQ(s.entry_mm_s, speed_before);
      speed_before = s.exit_mm_s;
      if (i > 0) {
        const double corner2 = sampledCorner2(lastDirection(program.motions[i - 1]), firstDirection(m), machine);
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
          if (k == steps) { ASSERT_NEAR(v, s.exit_mm_s, 1e-9 * (1 + v)); }
        }
        before = v;
        const double inside = std::clamp(share, 1e-4, 1 - 1e-4);
        const auto t = parts(directionOn(m, inside));
        const Vec3 bend = isStraight(m) ? Vec3{}
                                        : (directionOn(m, inside + 5e-5) - directionOn(m, inside - 5e-5)) * (1 / (1e-4 * s.length_mm));
        const auto b = parts(bend);
        for (std::size_t axis = 0; axis < 3; ++axis) {
          ASSERT_LE(v * t[axis], rate[axis] * (1 + 1e-6));
          ASSERT_LE(s.acceleration_mm_s2 * t[axis], most[axis] * (1 + 1e-6));
          ASSERT_LE(v * v * b[axis], most[axis] * (1 + 1e-4));
        }
        if (m.kind != MotionKind::rapid) { ASSERT_LE(v * 60, static_cast<double>(m.feed_mm_min) * (1 + 1e-6)); }
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
    const double before = plan(program, machine).time.total_s();
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
      EXPECT_LE(plan(program, better[i]).time.total_s(), before * (1 + 1e-12)) << "seed " << seed << ", limit " << i;
    PlanOptions faster;
    faster.feed_override = more;
    EXPECT_LE(plan(program, machine, faster).time.total_s(), before * (1 + 1e-12)) << "seed " << seed;
  }
}

TEST(EveryPlan, is_no_faster_than_its_length_at_its_limits_and_no_slower_than_stopping_at_every_block) {
  for (unsigned seed = 301; seed <= 340; ++seed) {
    RandomPath random(seed);
    Machine machine = random.machine();
    const Program program = random.program(60);
    PlanOptions keep;
    keep.keep_speeds = true;
    const Plan p = plan(program, machine, keep);
    double least_s = 0;
    for (const MoveSpeed& s : p.speeds) least_s += s.length_mm / s.limit_mm_s;
    EXPECT_GT(p.time.total_s(), least_s);
    machine.cornering = Cornering::exact_stop;
    EXPECT_LT(p.time.total_s(), plan(program, machine).time.total_s());
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
    const double expected = plan(whole, machine).time.total_s();
    EXPECT_NEAR(plan(split, machine).time.total_s(), expected, 1e-9 * expected) << "seed " << seed;
  }
}

}  // namespace
}  // namespace provecut
