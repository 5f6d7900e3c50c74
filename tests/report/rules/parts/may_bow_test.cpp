#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// The stock of 200 x 100 x 18 mm, so much of it taken before it is turned.
std::vector<Finding> taken(double share, Flip next = Flip::left_right, Material material = Material::hardwood,
                           bool given = true) {
  Scene s;
  s.job().stock.material = material;
  s.job().stock.material_given = given;
  s.feed({60, 40, -3});
  s.programRun().removed_mm3 = share * 200 * 100 * 18;
  Setup back = s.setup();
  back.name = "back";
  back.flip = next;
  s.job().setups.push_back(back);
  return s.findings(may_bow_rule);
}

TEST(MayBow, more_than_a_quarter_of_the_stock_from_one_side) {
  EXPECT_TRUE(taken(0.25).empty());
  const auto findings = taken(0.2501);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_EQ(findings[0].setup, "back");
  EXPECT_NEAR(*findings[0].amount, 25.01, 1e-9);
  EXPECT_NE(taken(0.4).at(0).message.find("removes 40 % of the solid wood"), std::string::npos)
      << taken(0.4).at(0).message;
}

TEST(MayBow, only_before_a_flip_and_only_in_solid_wood_that_is_named) {
  EXPECT_TRUE(taken(0.4, Flip::none).empty());
  EXPECT_EQ(taken(0.4, Flip::front_back, Material::softwood).size(), 1u);
  EXPECT_TRUE(taken(0.4, Flip::left_right, Material::mdf).empty());
  EXPECT_TRUE(taken(0.4, Flip::left_right, Material::hardwood, false).empty());
}

}  // namespace
}  // namespace provecut
