#include "sim/clock/arc_speed.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace provecut::clock {
namespace {

constexpr double quarter = std::numbers::pi / 2;

double phaseOf(double speed2, double bend2) {
  return std::asin(std::min(1.0, speed2 / bend2));
}

// Integral of dψ / sqrt(sin ψ) from a to b, 0 <= a <= b <= π/2. With ψ = x² the integrand is smooth down to 0;
// Gauss-Legendre with eight points on each half.
double rampIntegral(double a, double b) {
  constexpr std::array<double, 4> at{0.1834346424956498, 0.5255324099163290, 0.7966664774136267, 0.9602898564975363};
  constexpr std::array<double, 4> weight{0.3626837833783620, 0.3137066458778873, 0.2223810344533745,
                                         0.1012285362903763};
  const double low = std::sqrt(a), high = std::sqrt(b);
  const double half = (high - low) / 4;
  double sum = 0;
  for (double middle : {low + half, high - half})
    for (std::size_t k = 0; k < at.size(); ++k)
      for (double side : {-1.0, 1.0}) {
        const double x = middle + side * half * at[k];
        sum += weight[k] * 2 * x / std::sqrt(std::sin(x * x));
      }
  return b > a ? sum * half : 0;
}

double reach2(double from2, const SpeedStretch& s, double bend2) {
  return bend2 > 0 ? arcReach2(from2, s.length_mm, s.acceleration_mm_s2, bend2)
                   : from2 + 2 * s.acceleration_mm_s2 * s.length_mm;
}

}  // namespace

double arcReach2(double from2_mm2_s2, double length_mm, double acceleration_mm_s2, double bend2_mm2_s2) {
  const double phase = phaseOf(from2_mm2_s2, bend2_mm2_s2) + 2 * acceleration_mm_s2 * length_mm / bend2_mm2_s2;
  return bend2_mm2_s2 * std::sin(std::min(phase, quarter));
}

ArcDrive driveArc(const SpeedStretch& arc, double bend2_mm2_s2, double entry_mm_s, double exit_mm_s) {
  const double per_mm = 2 * arc.acceleration_mm_s2 / bend2_mm2_s2;
  const double entry = phaseOf(entry_mm_s * entry_mm_s, bend2_mm2_s2),
               exit = phaseOf(exit_mm_s * exit_mm_s, bend2_mm2_s2);
  const double cap = phaseOf(arc.speed_mm_s * arc.speed_mm_s, bend2_mm2_s2);
  const double peak = std::max({entry, exit, std::min(cap, 0.5 * (per_mm * arc.length_mm + entry + exit))});
  const double ramp_s = (rampIntegral(entry, peak) + rampIntegral(exit, peak)) / (per_mm * std::sqrt(bend2_mm2_s2));
  const double cruise_mm = std::max(0.0, arc.length_mm - (2 * peak - entry - exit) / per_mm);
  const double peak_mm_s = std::min(arc.speed_mm_s, std::sqrt(bend2_mm2_s2 * std::sin(peak)));
  return {ramp_s + (peak >= cap ? cruise_mm / peak_mm_s : 0), peak_mm_s};
}

double arcLeastBraked2(const SpeedStretch& arc, double bend2_mm2_s2) {
  const double speed2 = std::min(arc.speed_mm_s * arc.speed_mm_s, bend2_mm2_s2);
  const double phase = phaseOf(speed2, bend2_mm2_s2) - 2 * arc.acceleration_mm_s2 * arc.length_mm / bend2_mm2_s2;
  return speed2 - bend2_mm2_s2 * std::sin(std::max(0.0, phase));
}

void planSpeeds(std::span<SpeedStretch> path, std::span<const double> bend2_mm2_s2) {
  double exit2 = 0;
  for (std::size_t i = path.size(); i-- > 0;) {
    SpeedStretch& s = path[i];
    s.entry2_mm2_s2 = std::min({s.entry2_mm2_s2, s.speed_mm_s * s.speed_mm_s, reach2(exit2, s, bend2_mm2_s2[i])});
    exit2 = s.entry2_mm2_s2;
  }
  double reached2 = 0;
  for (std::size_t i = 0; i < path.size(); ++i) {
    SpeedStretch& s = path[i];
    s.entry2_mm2_s2 = std::min(s.entry2_mm2_s2, reached2);
    reached2 = std::min(s.speed_mm_s * s.speed_mm_s, reach2(s.entry2_mm2_s2, s, bend2_mm2_s2[i]));
  }
}

}  // namespace provecut::clock
