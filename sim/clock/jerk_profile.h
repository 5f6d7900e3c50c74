// Speed along a path when the acceleration itself may only change at a limited rate (S-curves).
#pragma once

#include <array>
#include <span>

#include "sim/clock/speed_profile.h"

namespace provecut::clock {

// One span driven from speed to speed with no acceleration at either end: at most seven phases of constant jerk.
struct JerkMove {
  struct Phase {
    double time_s = 0, jerk_mm_s3 = 0, acceleration_mm_s2 = 0, speed_mm_s = 0,
           at_mm = 0;  // the last three where it begins
  };
  std::array<Phase, 7> phases;
  double time_s = 0, peak_mm_s = 0;
};

// Highest speed that can be reached from `from_mm_s` over `length_mm`, from no acceleration to none; at most
// `max_mm_s`.
double jerkReach(double from_mm_s, double length_mm, double acceleration_mm_s2, double jerk_mm_s3, double max_mm_s);

// The speeds at both ends must be reachable from each other over the length (mechanics).
JerkMove jerkMove(double length_mm, double speed_mm_s, double acceleration_mm_s2, double jerk_mm_s3, double entry_mm_s,
                  double exit_mm_s);

// Seconds after the start at which the move is `at_mm` along.
double timeAt(const JerkMove& move, double at_mm);
double speedAt(const JerkMove& move, double time_s);

struct StretchDrive {
  double time_s = 0, entry_mm_s = 0, exit_mm_s = 0, peak_mm_s = 0;
};

// `path` as planSpeeds() left it, `limit2` the squares of the entry speeds allowed before. The path is cut where the
// plan without jerk runs into a corner or a change of speed limit; there the acceleration passes through zero. Between
// two cuts one S-curve is driven with the least acceleration of its stretches, so every limit of the plan still holds.
// Where that is faster, a cut more keeps a weak stretch from holding back the others, and a cut less goes past a limit
// that the S-curve does not reach.
void driveWithJerk(std::span<const SpeedStretch> path, std::span<const double> limit2, double jerk_mm_s3,
                   std::span<StretchDrive> drive);

}  // namespace provecut::clock
