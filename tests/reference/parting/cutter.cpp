#include "tests/reference/parting/cutter.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace provecut::reference {
namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();
constexpr double kNoLength_mm = 1e-9;

double radians(double degrees) {
  return degrees * std::numbers::pi / 180;
}

// The rise of the lower side per mm at distance r from the axis.
double slopeAt(const Profile& profile, double r) {
  if (r <= profile.flat) return 0;
  if (r > profile.arc_end) return profile.slope;
  const double out = r - profile.flat;
  const double up = std::sqrt(std::max(0.0, profile.corner * profile.corner - out * out));
  return up > 0 ? out / up : kNever;
}

// Where on [low, high] the height z(s) + bottom(distance(s)) is least. It is convex in s: the distance to a point is
// convex along a line, the profile is convex and never falls outwards, z is linear. So halve on the sign of its slope.
double lowestPlace(const Profile& profile, const Stroke& stroke, double along, double aside, double low, double high) {
  for (int i = 0; i < 44 && high - low > 1e-9; ++i) {
    const double middle = (low + high) / 2;
    const double distance = std::hypot(aside, middle - along);
    const double turn = distance > 0 ? (middle - along) / distance : 0;
    const double rise = stroke.slope + (turn == 0 ? 0 : slopeAt(profile, distance) * turn);
    (rise < 0 ? low : high) = middle;
  }
  return (low + high) / 2;
}

}  // namespace

Profile profileOf(const SheetTool& tool) {
  Profile p;
  p.radius = tool.diameter / 2;
  switch (tool.form) {
    case Form::flat:
      p.flat = p.radius;
      break;
    case Form::ball:
      p.corner = p.radius;
      break;
    case Form::bull:
      p.corner = tool.corner_radius;
      p.flat = p.radius - p.corner;
      break;
    case Form::vee:
      p.flat = tool.tip_diameter / 2;
      p.slope = 1 / std::tan(radians(tool.included_angle_deg / 2));
      break;
    case Form::taper_ball:
      p.corner = tool.tip_radius;
      p.slope = 1 / std::tan(radians(tool.half_angle_deg));
      break;
    case Form::drill:
      p.slope = 1 / std::tan(radians(tool.included_angle_deg / 2));
      break;
  }
  const double round = tool.form == Form::taper_ball ? p.corner * std::cos(radians(tool.half_angle_deg)) : p.corner;
  p.arc_end = std::min(p.radius, p.flat + round);
  const double out = p.arc_end - p.flat;
  p.arc_height = p.corner - std::sqrt(std::max(0.0, p.corner * p.corner - out * out));
  return p;
}

double bottomAt(const Profile& profile, double r) {
  if (r <= profile.flat) return 0;
  if (r > profile.arc_end) return profile.arc_height + (r - profile.arc_end) * profile.slope;
  const double out = r - profile.flat;
  return profile.corner - std::sqrt(std::max(0.0, profile.corner * profile.corner - out * out));
}

double radiusAt(const Profile& profile, double h) {
  if (h <= profile.arc_height) {
    const double down = profile.corner - h;
    return profile.flat + std::sqrt(std::max(0.0, profile.corner * profile.corner - down * down));
  }
  if (profile.arc_end >= profile.radius || profile.slope <= 0) return profile.radius;
  return std::min(profile.radius, profile.arc_end + (h - profile.arc_height) / profile.slope);
}

Stroke strokeOf(const SheetPoint& from, const SheetPoint& to) {
  Stroke s;
  s.x = from.x;
  s.y = from.y;
  s.length = std::hypot(to.x - from.x, to.y - from.y);
  if (s.length < kNoLength_mm) {
    s.length = 0;
    s.z = std::min(from.z, to.z);
    return s;
  }
  s.ux = (to.x - from.x) / s.length;
  s.uy = (to.y - from.y) / s.length;
  s.z = from.z;
  s.slope = (to.z - from.z) / s.length;
  return s;
}

double lowestTip(const Stroke& stroke) {
  return stroke.z + std::min(0.0, stroke.slope * stroke.length);
}

double envelopeAt(const Profile& profile, const Stroke& stroke, double x, double y, double limit) {
  const double along = (x - stroke.x) * stroke.ux + (y - stroke.y) * stroke.uy;
  const double nearest = std::clamp(along, 0.0, stroke.length);
  const double dx = x - stroke.x - nearest * stroke.ux;
  const double dy = y - stroke.y - nearest * stroke.uy;
  const double distance2 = dx * dx + dy * dy;
  if (distance2 > profile.radius * profile.radius) return kNever;
  if (stroke.slope == 0) return stroke.z + bottomAt(profile, std::sqrt(distance2));
  if (lowestTip(stroke) + bottomAt(profile, std::sqrt(distance2)) >= limit) return kNever;

  const double aside = (y - stroke.y) * stroke.ux - (x - stroke.x) * stroke.uy;
  const double half = std::sqrt(std::max(0.0, profile.radius * profile.radius - aside * aside));
  const double low = std::clamp(along - half, 0.0, stroke.length);
  const double high = std::clamp(along + half, 0.0, stroke.length);
  if (profile.flat >= profile.radius) return stroke.z + stroke.slope * (stroke.slope < 0 ? high : low);
  const double s = lowestPlace(profile, stroke, along, aside, low, high);
  const double r = std::min(profile.radius, std::hypot(aside, s - along));
  return stroke.z + stroke.slope * s + bottomAt(profile, r);
}

double distanceBelow(const Profile& profile, const Stroke& stroke, double x, double y, double top, double limit) {
  if (lowestTip(stroke) >= top) return kNever;
  const double along = (x - stroke.x) * stroke.ux + (y - stroke.y) * stroke.uy;
  const double aside = (y - stroke.y) * stroke.ux - (x - stroke.x) * stroke.uy;
  const auto from_axis = [&](double s) {
    return stroke.length == 0 ? std::hypot(x - stroke.x, y - stroke.y) : std::hypot(aside, s - along);
  };
  const auto gap = [&](double s) {
    return from_axis(s) - radiusAt(profile, std::max(0.0, top - stroke.z - stroke.slope * s));
  };
  if (from_axis(std::clamp(along, 0.0, stroke.length)) - profile.radius >= limit) return kNever;
  if (stroke.slope == 0) return gap(std::clamp(along, 0.0, stroke.length));

  // Only the part of the stroke with the tip below `top`; there the gap is convex (the radius is concave in height).
  const double crossing = std::clamp((top - stroke.z) / stroke.slope, 0.0, stroke.length);
  double low = stroke.slope > 0 ? 0 : crossing;
  double high = stroke.slope > 0 ? crossing : stroke.length;
  for (int i = 0; i < 60 && high - low > 1e-9; ++i) {
    const double left = low + (high - low) * 0.382;
    const double right = low + (high - low) * 0.618;
    if (gap(left) < gap(right)) {
      high = right;
    } else {
      low = left;
    }
  }
  return gap((low + high) / 2);
}

}  // namespace provecut::reference
