// Formulas of cutting against worked examples: speeds, chips and power as in Machinery's Handbook, 31st ed. (milling,
// machining power), geometry of the circular tooth path, bending of cantilevers. The values were computed from the
// formulas in 40 digits.
#include "sim/tool/cutting_load.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "sim/tool/cutting_material.h"

namespace provecut {
namespace {

constexpr double degrees = 180 / std::numbers::pi;

void same(double got, double wanted) {
  EXPECT_NEAR(got, wanted, 1e-9 * std::fabs(wanted));
}

ToolBody bodyOf(std::vector<BodyPiece> pieces) {
  ToolBody body;
  body.pieces = std::move(pieces);
  return body;
}

BodyPiece rod(ToolPart part, double diameter, double z0, double z1) {
  return {part, -1, z0, diameter / 2, z1, diameter / 2};
}

TEST(CuttingLoad, the_surface_speed_is_circumference_times_speed) {
  same(surfaceSpeed_m_min(6.35, 18000), 359.0840403053);
  same(surfaceSpeed_m_min(3.175, 24000), 239.3893602035);
  same(surfaceSpeed_m_min(25.4, 16000), 1276.743254419);
}

TEST(CuttingLoad, the_chip_load_is_the_way_per_tooth) {
  same(chipLoad_mm(3000, 18000, 2), 3.0 / 36);
  same(chipLoad_mm(1500, 18000, 1), 1.5 / 18);
  same(chipLoad_mm(2540, 16000, 2), 0.079375);
}

TEST(CuttingLoad, the_engagement_angle_follows_from_the_width) {
  same(engagementAngle_rad(0.25, 6) * degrees, 23.5564643091);
  same(engagementAngle_rad(1.2, 6) * degrees, 53.13010235416);
  same(engagementAngle_rad(3, 6) * degrees, 90);
  same(engagementAngle_rad(4.5, 6) * degrees, 120);
  same(engagementAngle_rad(2.54, 6.35) * degrees, 78.46304096718);
  same(engagementAngle_rad(9, 6) * degrees, 180);  // no wider than a slot
}

TEST(CuttingLoad, narrow_cuts_make_thin_chips) {
  same(maxChipThickness_mm(0.1, 0.25, 6), 0.03996526269427);
  same(maxChipThickness_mm(0.1, 0.6, 6), 0.06);
  same(maxChipThickness_mm(0.1, 3, 6), 0.1);
  same(maxChipThickness_mm(0.1, 6, 6), 0.1);
  same(maxChipThickness_mm(0.08, 1.27, 12.7), 0.048);
  same(meanChip_mm(0.1, 0.25, 6), 0.02026895135919);
  same(meanChip_mm(0.1, 0.6, 6), 0.03107997752716);
  same(meanChip_mm(0.1, 6, 6), 0.06366197723676);
}

TEST(CuttingLoad, teeth_in_the_cut) {
  same(teethInCut(2, engagementAngle_rad(0.25, 6)), 0.1308692461617);
  same(teethInCut(2, engagementAngle_rad(6, 6)), 1);
}

TEST(CuttingLoad, a_slanted_edge_thins_its_chips) {
  same(slantedChip_mm(0.05, 15 / degrees), 0.01294095225513);
  same(slantedChip_mm(0.05, 30 / degrees), 0.025);
  same(slantedChip_mm(0.05, 45 / degrees), 0.03535533905933);
}

TEST(CuttingLoad, removal_rate_and_power) {
  same(removalRate_mm3_min(6, 6, 3000), 108000);
  same(removalRate_mm3_min(0.25, 18, 3000), 13500);
  same(cuttingPower_w(30, 108000), 54);
  same(cuttingPower_w(55, 108000), 99);
  same(cuttingPower_w(800, 1587.5), 21.16666666667);
  same(meanTangentialForce_n(99, surfaceSpeed_m_min(6, 18000)), 17.50704374011);
}

TEST(CuttingLoad, thin_chips_cost_more_energy) {
  same(specificEnergy_j_cm3({631, 13}, 0.03), 1064.333333333);
  same(specificEnergy_j_cm3({767.01, 27.7}, 0.03), 1690.343333333);
  const double slot = meanChip_mm(0.1, 6, 6);
  same(specificEnergy_j_cm3(cuttingForce(Material::hardwood), slot), 56.4159265359);
  same(specificEnergy_j_cm3(cuttingForce(Material::softwood), slot), 30.70796326795);
}

// A trap: the handbook's 680 J/cm3 of aluminium is for ordinary chips, a router's are thinner.
TEST(CuttingLoad, aluminium_at_three_hundredths_needs_half_again_of_the_handbooks_figure) {
  const double energy = specificEnergy_j_cm3(cuttingForce(Material::aluminium), 0.03);
  same(energy, 1064.333333333);
  EXPECT_GT(energy, 1.5 * 680);
}

TEST(CuttingLoad, the_force_on_a_tooth) {
  same(toothForce_n(cuttingForce(Material::hardwood), 6, 3.0 / 36), 24.5);
  same(toothForce_n(cuttingForce(Material::softwood), 3, 3.0 / 36), 6.75);
  same(toothForce_n(cuttingForce(Material::softwood), 18, 3.0 / 36), 40.5);
  same(toothForce_n(cuttingForce(Material::aluminium), 0.5, 0.05), 22.275);
}

TEST(CuttingLoad, a_round_bar_bends_as_a_cantilever) {
  const auto bar = [](double d, double l) { return bodyOf({rod(ToolPart::shank, d, 0, l)}); };
  same(20 * compliance_mm_n(bar(3.175, 20), 0, 600e3), 0.01781979322542);
  same(20 * compliance_mm_n(bar(3.175, 20), 0, 210e3), 0.05091369492976);
  same(20 * compliance_mm_n(bar(2.54, 20), 0, 600e3), 0.04350535455424);
  same(40 * compliance_mm_n(bar(6, 30), 0, 600e3), 0.009431404035075);
  same(40 * compliance_mm_n(bar(4.8, 30), 0, 600e3), 0.02302588875751);
}

TEST(CuttingLoad, flutes_count_with_four_fifths_of_their_diameter) {
  ToolBody body = bodyOf({rod(ToolPart::cutter, 6, 0, 30), rod(ToolPart::collet_nut, 30, 30, 50)});
  same(40 * compliance_mm_n(body, 0, 600e3), 0.02302588875751);
}

TEST(CuttingLoad, a_stepped_bit_bends_mostly_where_it_is_thin) {
  const ToolBody body = bodyOf({rod(ToolPart::shank, 3.175, 0, 12), rod(ToolPart::shank, 6.35, 12, 30)});
  same(20 * compliance_mm_n(body, 0, 600e3), 0.007367370761633);
}

TEST(CuttingLoad, a_load_further_up_bends_a_bar_of_that_length) {
  const ToolBody body = bodyOf({rod(ToolPart::shank, 6, 0, 33)});
  same(40 * compliance_mm_n(body, 3, 600e3), 0.009431404035075);
}

TEST(CuttingLoad, a_cone_bends_as_its_integral_says) {
  // d = 2 z: the integral of (z - 2)^2 / (pi (2 z)^4 / 64) from 2 to 6 is 4/pi [-1/z + 2/z^2 - 4/(3 z^3)] from 2 to 6.
  const auto antiderivative = [](double z) { return -1 / z + 2 / (z * z) - 4 / (3 * z * z * z); };
  const double wanted = 4 / std::numbers::pi * (antiderivative(6) - antiderivative(2));
  const ToolBody body = bodyOf({{ToolPart::shank, -1, 0, 0, 6, 6}});
  EXPECT_NEAR(compliance_mm_n(body, 2, 1), wanted, 1e-3 * wanted);
}

TEST(CuttingLoad, what_a_vee_or_a_ball_is_wide_at_its_depth) {
  const auto vee = [](double angle, double d) {
    Tool t;
    t.shape = ToolShape::vee;
    t.diameter_mm = 12.7;
    t.angle_deg = angle;
    return diameterAt_mm(toolBody(t, {}, {}), d);
  };
  same(vee(60, 1.2), 1.385640646055);
  same(vee(90, 1.2), 2.4);
  Tool ball;
  ball.shape = ToolShape::ball;
  ball.diameter_mm = 6;
  same(diameterAt_mm(toolBody(ball, {}, {}), 0.3), 2.615339366124);
  same(diameterAt_mm(toolBody(ball, {}, {}), 5), 6);
}

}  // namespace
}  // namespace provecut
