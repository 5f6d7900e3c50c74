// Speed along an arc where the acceleration along the path and the one towards the centre share what the axes give:
// (a_t / a)² + (v² / bend²)² <= 1. Then v² = bend² sin ψ, with ψ growing evenly along the path.
#pragma once

#include <span>

#include "sim/clock/speed_profile.h"

namespace provecut::clock {

struct ArcDrive {
  double time_s = 0, peak_mm_s = 0;
};

// Square of the highest speed that can be reached over `length_mm`.
double arcReach2(double from2_mm2_s2, double length_mm, double acceleration_mm_s2, double bend2_mm2_s2);

// Like stretchTime() and peakSpeed().
ArcDrive driveArc(const SpeedStretch& arc, double bend2_mm2_s2, double entry_mm_s, double exit_mm_s);

// The least that braking all along the arc takes off the square of a speed that the arc allows.
double arcLeastBraked2(const SpeedStretch& arc, double bend2_mm2_s2);

// planSpeeds() with one bend for each stretch, 0 where it is straight.
void planSpeeds(std::span<SpeedStretch> path, std::span<const double> bend2_mm2_s2);

}  // namespace provecut::clock
