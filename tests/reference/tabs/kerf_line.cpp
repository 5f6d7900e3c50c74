#include "tests/reference/tabs/kerf_line.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace provecut::reference {
namespace {

constexpr double kUpright = std::numeric_limits<double>::infinity();

double riseOf(const LiftedTip& tip) {
  return tip.ramp > 0 ? (tip.high - tip.low) / tip.ramp : kUpright;
}

// Up a ramp the tool touches its own envelope where its lower side rises as the ramp does: that far from the axis.
double touchOf(const Profile& p, double rise) {
  if (rise == kUpright) return p.radius;
  const double out = p.flat + p.corner * rise / std::hypot(1, rise);
  if (p.corner > 0 && out <= p.arc_end) return out;
  if (p.arc_end < p.radius && p.slope >= rise) return p.arc_end;
  return p.radius;
}

// The middle at a distance from the end of the lift: the tool's own form as it stands there, then the ramp's envelope.
double sideAt(const Profile& p, const LiftedTip& tip, double distance) {
  if (distance <= 0) return tip.low;
  const double touch = touchOf(p, riseOf(tip));
  if (distance <= touch) return tip.low + bottomAt(p, distance);
  return riseOf(tip) == kUpright ? kUpright : tip.low + bottomAt(p, touch) + (distance - touch) * riseOf(tip);
}

// The integral of the lower side's height from the axis out to r.
double belowForm(const Profile& p, double r) {
  const double out = std::clamp(r - p.flat, 0.0, p.arc_end - p.flat);
  double area = 0;
  if (p.corner > 0) {
    const double up = std::sqrt(std::max(0.0, p.corner * p.corner - out * out));
    area = p.corner * out - (out * up + p.corner * p.corner * std::asin(std::min(1.0, out / p.corner))) / 2;
  }
  if (r > p.arc_end) area += (r - p.arc_end) * (p.arc_height + (r - p.arc_end) * p.slope / 2);
  return area;
}

double belowSide(const Profile& p, const LiftedTip& tip, double distance) {
  const double touch = touchOf(p, riseOf(tip));
  const double within = std::min(distance, touch);
  double area = tip.low * within + belowForm(p, within);
  if (distance > touch) area += (distance - touch) * (sideAt(p, tip, touch) + sideAt(p, tip, distance)) / 2;
  return area;
}

}  // namespace

double middleAt(const Profile& profile, const LiftedTip& tip, double s) {
  return std::min(tip.high, sideAt(profile, tip, std::min(s - tip.from, tip.to - s)));
}

double reachOf(const Profile& profile, const LiftedTip& tip, double height) {
  const double touch = touchOf(profile, riseOf(tip));
  const double at_touch = tip.low + bottomAt(profile, touch);
  if (height <= at_touch || riseOf(tip) == kUpright) return radiusAt(profile, std::max(0.0, height - tip.low));
  return touch + (height - at_touch) / riseOf(tip);
}

double middleArea(const Profile& profile, const LiftedTip& tip, double floor, double ceiling) {
  const double half = (tip.to - tip.from) / 2;
  const double top = std::min(tip.high, ceiling);
  const double foot = reachOf(profile, tip, floor);
  if (foot >= half || top <= floor) return 0;
  const double shoulder = std::min(half, reachOf(profile, tip, top));
  const double side = belowSide(profile, tip, shoulder) - belowSide(profile, tip, foot) - floor * (shoulder - foot);
  return 2 * (side + (top - floor) * (half - shoulder));
}

std::vector<Knot> passAt(const std::vector<LiftedTip>& lifts, double z, double length) {
  std::vector<Knot> knots{{0, z}};
  for (const LiftedTip& tip : lifts) {
    if (tip.high <= z) continue;
    knots.push_back({tip.from, z});
    knots.push_back({tip.from + tip.ramp, tip.high});
    knots.push_back({tip.to - tip.ramp, tip.high});
    knots.push_back({tip.to, z});
  }
  knots.push_back({length, z});
  return knots;
}

}  // namespace provecut::reference
