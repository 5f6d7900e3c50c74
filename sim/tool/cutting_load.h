// Formulas of cutting: speeds, chips, power, force, bending. Lengths mm, feeds mm/min, angles rad, forces N.
//
// Sources: Machinery's Handbook, 31st ed., milling and machining-power sections; geometry of the circular tooth path
// and mechanics of beams where nothing is said.
#pragma once

#include "parser/job/job.h"
#include "sim/tool/tool_body.h"

namespace provecut {

// v = pi D n / 1000, in m/min.
double surfaceSpeed_m_min(double diameter_mm, double rpm);

// Way per tooth: f_z = F / (n z).
double chipLoad_mm(double feed_mm_min, double rpm, int flutes);

// Part of a turn that a tooth spends in the cut of radial width `radial_depth_mm` along a wall: acos(1 - 2 a_e / D), 0
// to pi.
double engagementAngle_rad(double radial_depth_mm, double diameter_mm);

// Max thickness of a chip: f_z 2 sqrt(x (1 - x)) with x = a_e / D below a half, f_z from there on.
double maxChipThickness_mm(double chip_load_mm, double radial_depth_mm, double diameter_mm);

// Its mean thickness: f_z (2 a_e / D) / angle; 0 without a width.
double meanChip_mm(double chip_load_mm, double radial_depth_mm, double diameter_mm);

// Teeth in the cut at a time, on average: z angle / (2 pi).
double teethInCut(int flutes, double angle_rad);

// An edge that stands at `setting_rad` to the plane of the feed (a right angle: upright) takes chips that much thinner:
// h sin(kappa). A vee of included angle A stands at a right angle less A / 2.
double slantedChip_mm(double max_chip_thickness_mm, double setting_rad);

// Q = a_e a_p F, in mm3/min.
double removalRate_mm3_min(double radial_depth_mm, double depth_mm, double feed_mm_min);

// P = u Q / 60000, u in J/cm3 (the same number as N/mm2), in W.
double cuttingPower_w(double energy_j_cm3, double removal_mm3_min);

// Force on an edge: a part for the chip's area, a part for the edge's length, whatever the chip's thickness.
struct CuttingForce {
  double per_area_n_mm2 = 0;
  double per_edge_n_mm = 0;
};

// u = K_tc + K_te / h_m: thin chips cost more.
double specificEnergy_j_cm3(const CuttingForce& force, double mean_chip_mm);

// a_p (K_tc h + K_te).
double toothForce_n(const CuttingForce& force, double depth_mm, double max_chip_thickness_mm);

// P / v.
double meanTangentialForce_n(double power_w, double surface_speed_m_min);

// Way sideways per newton of the place `load_mm` above the tip, of a cutter held at its collet-nut face: a cantilever
// in steps, the sum of (z - load)^2 / (E I) over its length, I = pi d^4 / 64 (F L^3 / (3 E I) where d is the same all
// along). The fluted part counts with 0.8 of its diameter (from memory). 0 where the body has no shank: its stick-out
// is not known.
double compliance_mm_n(const ToolBody& body, double load_mm, double modulus_n_mm2);

// What is cut at `depth_mm`: twice the cutter's radius there. Tables of chip load for upright cutters are read at it.
double diameterAt_mm(const ToolBody& body, double depth_mm);

}  // namespace provecut
