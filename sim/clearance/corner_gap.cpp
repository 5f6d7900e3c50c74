#include "sim/clearance/corner_gap.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace provecut::clearance {

namespace {

CornerGap fromPoint(double d, double h, double r, double z) {
  const double out = d - r, up = h - z, distance = std::sqrt(out * out + up * up);
  return distance > 0 ? CornerGap{distance, out / distance, up / distance} : CornerGap{};
}

CornerGap beside(double d, double r) {
  return d > r ? CornerGap{d - r, 1, 0} : CornerGap{};
}

CornerGap fromFlank(const BodyPiece& p, double d, double h) {
  const double er = p.r1 - p.r0, ez = p.z1 - p.z0, vr = d - p.r0, vz = h - p.z0;
  if (h >= p.z0 && er * vz >= ez * vr) return {};  // on the inner side of the flank
  const double k = std::clamp((er * vr + ez * vz) / (er * er + ez * ez), 0.0, 1.0);
  return fromPoint(d, h, p.r0 + k * er, p.z0 + k * ez);
}

CornerGap fromArc(const BodyPiece& p, double d, double h) {
  const double vr = d - p.centre_r, vz = h - p.centre_z, away = std::sqrt(vr * vr + vz * vz);
  if (h >= p.z0 && away <= p.arc_radius) return {};
  const double z = p.centre_z + p.arc_radius * (vz / away);
  if (z < p.z0) return fromPoint(d, h, p.r0, p.z0);
  if (z > p.z1) return fromPoint(d, h, p.r1, p.z1);
  return {away - p.arc_radius, vr / away, vz / away};
}

}  // namespace

CornerGap cornerGap(const BodyPiece& p, double d, double h) {
  if (h >= p.z1) return beside(d, std::max(p.r0, p.r1));
  if (d <= p.r0) return h >= p.z0 ? CornerGap{} : CornerGap{p.z0 - h, 0, -1};
  if (p.arc_radius > 0) return fromArc(p, d, h);
  if (p.r1 > p.r0) return fromFlank(p, d, h);
  return h >= p.z0 ? beside(d, p.r0) : fromPoint(d, h, p.r0, p.z0);
}

double radiusUpTo(const BodyPiece& p, double h) {
  if (h < p.z0) return -std::numeric_limits<double>::infinity();
  if (h >= p.z1 || p.r1 <= p.r0) return std::max(p.r0, p.r1);
  if (p.arc_radius > 0) {
    const double rise = h - p.centre_z;
    return p.centre_r + std::sqrt(std::max(0.0, p.arc_radius * p.arc_radius - rise * rise));
  }
  return p.r0 + (p.r1 - p.r0) * ((h - p.z0) / (p.z1 - p.z0));
}

}  // namespace provecut::clearance
