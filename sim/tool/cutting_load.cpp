#include "sim/tool/cutting_load.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace provecut {

namespace {

constexpr double pi = std::numbers::pi;
constexpr double fluted_share = 0.8;

double share(double radial_depth_mm, double diameter_mm) {
  return std::clamp(radial_depth_mm / diameter_mm, 0.0, 1.0);
}

double secondMoment_mm4(double diameter_mm) {
  const double square = diameter_mm * diameter_mm;
  return pi * square * square / 64;
}

double cube(double v) {
  return v * v * v;
}

double radiusOf(const BodyPiece& p, double z) {
  if (p.arc_radius > 0) {
    const double rise = z - p.centre_z;
    return p.centre_r + std::sqrt(std::max(0.0, p.arc_radius * p.arc_radius - rise * rise));
  }
  return p.r0 + (p.r1 - p.r0) * ((z - p.z0) / (p.z1 - p.z0));
}

// The integral of (z - load)^2 / I over the piece, by six points of Gauss and Legendre where its diameter changes.
double bending(const BodyPiece& p, double load) {
  const double from = std::max(p.z0, load), to = p.z1, thinner = p.part == ToolPart::cutter ? fluted_share : 1;
  if (to <= from) return 0;
  if (p.arc_radius <= 0 && p.r0 == p.r1) {
    return (cube(to - load) - cube(from - load)) / (3 * secondMoment_mm4(2 * p.r0 * thinner));
  }
  constexpr std::array<double, 3> at{0.2386191860831969, 0.6612093864662645, 0.9324695142031521};
  constexpr std::array<double, 3> weight{0.4679139345726910, 0.3607615730481386, 0.1713244923791704};
  const double middle = (from + to) / 2, half = (to - from) / 2;
  double sum = 0;
  for (std::size_t i = 0; i < at.size(); ++i) {
    for (const double z : {middle - half * at[i], middle + half * at[i]}) {
      const double r = radiusOf(p, z);
      if (r > 0) sum += weight[i] * (z - load) * (z - load) / secondMoment_mm4(2 * r * thinner);
    }
  }
  return sum * half;
}

}  // namespace

double surfaceSpeed_m_min(double diameter_mm, double rpm) {
  return pi * diameter_mm * rpm / 1000;
}

double chipLoad_mm(double feed_mm_min, double rpm, int flutes) {
  return feed_mm_min / (rpm * flutes);
}

double engagementAngle_rad(double radial_depth_mm, double diameter_mm) {
  return std::acos(1 - 2 * share(radial_depth_mm, diameter_mm));
}

double maxChipThickness_mm(double chip_load_mm, double radial_depth_mm, double diameter_mm) {
  const double x = share(radial_depth_mm, diameter_mm);
  return x < 0.5 ? chip_load_mm * 2 * std::sqrt(x * (1 - x)) : chip_load_mm;
}

double meanChip_mm(double chip_load_mm, double radial_depth_mm, double diameter_mm) {
  const double angle = engagementAngle_rad(radial_depth_mm, diameter_mm);
  return angle > 0 ? chip_load_mm * 2 * share(radial_depth_mm, diameter_mm) / angle : 0;
}

double teethInCut(int flutes, double angle_rad) {
  return flutes * angle_rad / (2 * pi);
}

double slantedChip_mm(double max_chip_thickness_mm, double setting_rad) {
  return max_chip_thickness_mm * std::sin(setting_rad);
}

double removalRate_mm3_min(double radial_depth_mm, double depth_mm, double feed_mm_min) {
  return radial_depth_mm * depth_mm * feed_mm_min;
}

double cuttingPower_w(double energy_j_cm3, double removal_mm3_min) {
  return energy_j_cm3 * removal_mm3_min / 60000;
}

double specificEnergy_j_cm3(const CuttingForce& force, double mean_chip_mm) {
  return force.per_area_n_mm2 + force.per_edge_n_mm / mean_chip_mm;
}

double toothForce_n(const CuttingForce& force, double depth_mm, double max_chip_thickness_mm) {
  return depth_mm * (force.per_area_n_mm2 * max_chip_thickness_mm + force.per_edge_n_mm);
}

double meanTangentialForce_n(double power_w, double surface_speed_m_min) {
  return power_w / (surface_speed_m_min / 60);
}

double compliance_mm_n(const ToolBody& body, double load_mm, double modulus_n_mm2) {
  double sum = 0;
  bool held = false;
  for (const BodyPiece& p : body.pieces) {
    held = held || p.part == ToolPart::shank || p.part == ToolPart::collet_nut;
    if (p.part == ToolPart::cutter || p.part == ToolPart::shank) sum += bending(p, load_mm);
  }
  return held ? sum / modulus_n_mm2 : 0;
}

double diameterAt_mm(const ToolBody& body, double depth_mm) {
  const double top = std::min(depth_mm, body.cutter_length_mm);
  double radius = 0;
  for (const BodyPiece& p : body.pieces) {
    if (p.part != ToolPart::cutter || p.z0 > top) continue;
    // The widest of a piece is at its top or, of an undercut, at its foot.
    radius = std::max({radius, p.r0, radiusOf(p, std::min(p.z1, top))});
  }
  return 2 * radius;
}

}  // namespace provecut
