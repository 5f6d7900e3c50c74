// Speed along a path of stretches, each with its own limits. Knows nothing of axes, programs or machines.
#pragma once

#include <span>

namespace provecut::clock {

// A piece of path over which the limits do not change.
struct SpeedStretch {
  double length_mm = 0;           // above 0
  double speed_mm_s = 0;          // highest speed on it, above 0
  double acceleration_mm_s2 = 0;  // highest speeding up and braking along it, above 0
  double entry2_mm2_s2 = 0;       // square of the highest speed at its start; planSpeeds() lowers it to the one reached
};

// The fastest speeds that stay within every limit, from rest before the first stretch to rest after the last:
// one pass backward for braking, one forward for speeding up.
void planSpeeds(std::span<SpeedStretch> path);

// Seconds for `length_mm` between two speeds that can be reached from each other on it (speeding up, cruise, braking).
double stretchTime(double length_mm, double speed_mm_s, double acceleration_mm_s2, double entry_mm_s, double exit_mm_s);

// Highest speed met on the way, mm/s.
double peakSpeed(double length_mm, double speed_mm_s, double acceleration_mm_s2, double entry_mm_s, double exit_mm_s);

}  // namespace provecut::clock
