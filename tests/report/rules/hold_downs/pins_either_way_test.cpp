#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(PinsEitherWay, a_stock_that_goes_on_half_round_is_worth_knowing) {
  Scene s;
  s.feed({30, 12, -3});
  EXPECT_TRUE(s.findings(pins_either_way_rule).empty());
  s.run().pins_either_way.push_back({0, {0, 0}, 180});
  const auto findings = s.findings(pins_either_way_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_EQ(findings[0].message, "the stock also fits the pins of setup front rotated by 180°");
  EXPECT_FALSE(findings[0].amount.has_value());
}

}  // namespace
}  // namespace provecut
