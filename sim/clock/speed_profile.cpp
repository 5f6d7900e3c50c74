#include "sim/clock/speed_profile.h"

#include <algorithm>
#include <cmath>

namespace provecut::clock {

void planSpeeds(std::span<SpeedStretch> path) {
  double exit2 = 0;
  for (std::size_t i = path.size(); i-- > 0;) {
    SpeedStretch& s = path[i];
    s.entry2_mm2_s2 =
        std::min({s.entry2_mm2_s2, s.speed_mm_s * s.speed_mm_s, exit2 + 2 * s.acceleration_mm_s2 * s.length_mm});
    exit2 = s.entry2_mm2_s2;
  }
  double reach2 = 0;
  for (SpeedStretch& s : path) {
    s.entry2_mm2_s2 = std::min(s.entry2_mm2_s2, reach2);
    reach2 = std::min(s.speed_mm_s * s.speed_mm_s, s.entry2_mm2_s2 + 2 * s.acceleration_mm_s2 * s.length_mm);
  }
}

double peakSpeed(double length_mm, double speed_mm_s, double acceleration_mm_s2, double entry_mm_s, double exit_mm_s) {
  const double peak2 = acceleration_mm_s2 * length_mm + 0.5 * (entry_mm_s * entry_mm_s + exit_mm_s * exit_mm_s);
  return std::min(std::sqrt(peak2), speed_mm_s);
}

double stretchTime(double length_mm, double speed_mm_s, double acceleration_mm_s2, double entry_mm_s,
                   double exit_mm_s) {
  const double a = acceleration_mm_s2;
  const double v = speed_mm_s;
  const double peak2 = a * length_mm + 0.5 * (entry_mm_s * entry_mm_s + exit_mm_s * exit_mm_s);
  if (peak2 >= v * v) {
    const double up = v - entry_mm_s, down = v - exit_mm_s;
    return length_mm / v + (up * up + down * down) / (2 * a * v);
  }
  // Each ramp as its length over its mean speed: no difference of nearly equal speeds.
  const double peak = std::sqrt(peak2);
  const double lead = (exit_mm_s * exit_mm_s - entry_mm_s * entry_mm_s) / (2 * a);
  const double up_mm = std::max(0.0, length_mm + lead), down_mm = std::max(0.0, length_mm - lead);
  return up_mm / (peak + entry_mm_s) + down_mm / (peak + exit_mm_s);
}

}  // namespace provecut::clock
