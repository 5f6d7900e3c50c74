#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// The scene's tool with a shank of 6 mm, 35 mm out of the collet, and so long in all.
std::vector<Finding> bitOf(double overall_mm, bool used = true) {
  Scene s;
  s.tool().shank_diameter_mm = 6;
  s.tool().stickout_mm = 35;
  s.tool().overall_length_mm = overall_mm;
  if (used) s.feed({60, 40, -3});
  return s.findings(shank_grip_rule);
}

TEST(ShankGrip, four_shanks_in_the_collet_are_enough) {
  EXPECT_TRUE(bitOf(35 + 24).empty());
  EXPECT_EQ(bitOf(35 + 23.99).size(), 1u);
  const auto findings = bitOf(50);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 15);
  EXPECT_EQ(findings[0].message, "the collet holds only 15 mm of 6 mm flat (minimum 24 mm); the bit may slip out");
  EXPECT_EQ(
      findings[0].help,
      "Seat the shank at least 9 mm deeper in the collet, correct `stickout` and set Z zero again. Or use a longer "
      "bit.");
}

TEST(ShankGrip, a_bit_shorter_than_its_stickout_is_not_held_at_all) {
  ASSERT_EQ(bitOf(30).size(), 1u);
  EXPECT_EQ(bitOf(30)[0].message, "6 mm flat is shorter than its stickout, so the collet holds nothing");
}

TEST(ShankGrip, a_bit_that_stays_in_its_box_and_one_of_unknown_length_are_let_be) {
  EXPECT_TRUE(bitOf(50, false).empty());
  EXPECT_TRUE(bitOf(0).empty());
}

}  // namespace
}  // namespace provecut
