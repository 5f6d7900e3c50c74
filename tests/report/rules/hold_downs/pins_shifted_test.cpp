#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(PinsShifted, says_which_way_the_stock_is_off_and_where_the_pins_belong) {
  Scene s;
  s.feed({30, 12, -3});
  s.run().pins_shifted.push_back({0, {12, -3}, 0});
  const auto findings = s.findings(pins_shifted_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::stop);
  EXPECT_NEAR(*findings[0].amount, 12.36931687685, 1e-9);  // sqrt(12² + 3²)
  EXPECT_EQ(findings[0].message,
            "the stock fits the pins of setup front 12 mm too far to the right and 3 mm too far to the front");
  EXPECT_NE(findings[0].help.find("12 mm to the left and 3 mm to the back"), std::string::npos);
}

TEST(PinsShifted, a_flip_at_which_the_pins_fit_as_they_stand_is_told_first) {
  Scene s;
  s.setup().flip = Flip::left_right;
  s.feed({30, 12, -3});
  s.run().pins_shifted.push_back({0, {12, 0}, 0});
  s.run().pins_flipped.push_back({0, Flip::front_back, 0});
  const auto findings = s.findings(pins_shifted_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_TRUE(findings[0].message.ends_with("; flipped front to back, it fits them as they stand"));
  EXPECT_TRUE(
      findings[0].help.starts_with("If you place the stock flipped front to back, write `flip = \"front-back\"`."));
}

TEST(PinsShifted, nothing_without_a_shift) {
  Scene s;
  s.feed({30, 12, -3});
  EXPECT_TRUE(s.findings(pins_shifted_rule).empty());
}

}  // namespace
}  // namespace provecut
