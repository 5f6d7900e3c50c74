#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// A slot in a sheet so thick, zero on its top, the tip at `z`.
std::vector<Finding> slot(Material material, double thickness_mm, double z, double tolerance_mm = 0,
                          bool zero_on_top = true) {
  Scene s;
  s.job().stock.material = material;
  s.job().stock.material_given = true;
  s.job().stock.size_mm.z = thickness_mm;
  s.job().stock.thickness_tolerance_mm = tolerance_mm;
  s.setup().zero_mm.z = thickness_mm;
  s.setup().zero_z_on_top = zero_on_top;
  s.feed({60, 40, z});
  s.cuts(3, 3);
  return s.findings(thickness_as_sold_rule);
}

// A trap: cast acrylic sold as 6 mm may be 5.0 to 7.0 mm thick (ISO 7823-1).
TEST(ThicknessAsSold, acrylic_of_six_may_be_five_to_seven) {
  EXPECT_TRUE(slot(Material::acrylic, 6, -4.99).empty());
  EXPECT_TRUE(slot(Material::acrylic, 6, -7.01).empty());
  ASSERT_EQ(slot(Material::acrylic, 6, -5.01).size(), 1u);
  const auto findings = slot(Material::acrylic, 6, -6.99);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 1);
  EXPECT_NE(findings[0].message.find("may measure 5 to 7 mm"), std::string::npos) << findings[0].message;
}

// EN 315 for sanded plywood: 18 mm +0.74 −0.94, 12 mm +0.56 −0.76. EN 622-1 for MDF: 0.2 mm up to 19 mm.
TEST(ThicknessAsSold, plywood_and_mdf_by_their_standards) {
  EXPECT_TRUE(slot(Material::plywood, 18, -17.05).empty());
  EXPECT_EQ(slot(Material::plywood, 18, -17.07).size(), 1u);
  EXPECT_EQ(slot(Material::plywood, 18, -18.73).size(), 1u);
  EXPECT_TRUE(slot(Material::plywood, 18, -18.75).empty());
  EXPECT_NEAR(*slot(Material::plywood, 12, -12).at(0).amount, 0.56, 1e-9);
  EXPECT_TRUE(slot(Material::mdf, 18, -17.79).empty());
  EXPECT_EQ(slot(Material::mdf, 18, -18.19).size(), 1u);
  EXPECT_EQ(slot(Material::mdf, 22, -22.29).size(), 1u);
}

TEST(ThicknessAsSold, a_measured_stock_and_a_zero_on_the_spoilboard_leave_no_doubt) {
  EXPECT_TRUE(slot(Material::acrylic, 6, -6.3, 0.1).empty());
  EXPECT_TRUE(slot(Material::acrylic, 6, -6.3, 0, false).empty());
  EXPECT_TRUE(slot(Material::hardwood, 18, -18).empty());
}

}  // namespace
}  // namespace provecut
