#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// A pin of 8 mm that reaches 12 into the stock; its nearest wall and how deep its hole takes it.
std::vector<Finding> withPin(double wall_mm, double free_depth_mm, bool inches = false) {
  Scene s;
  s.job().inches = inches;
  HoldDown pin = screw("pin W", {14, 45}, 8, -6);
  pin.kind = HoldDownKind::pin;
  pin.depth_in_stock_mm = 12;
  const int index = s.addHoldDown(pin);
  s.feed({30, 12, -3});
  s.run().pin_fits.push_back({0, index, wall_mm, free_depth_mm, 8.1, 8.1});
  return s.findings(pin_blocked_rule);
}

TEST(PinBlocked, a_pin_where_the_stock_has_no_hole_stops_the_job) {
  const auto findings = withPin(0, 0);
  ASSERT_EQ(findings.size(), 1u);
  const Finding& f = findings[0];
  EXPECT_EQ(f.rule, "pin-blocked");
  EXPECT_EQ(f.level, Level::stop);
  EXPECT_EQ(f.subject, "pin W");
  EXPECT_EQ(f.setup, "front");
  EXPECT_DOUBLE_EQ(*f.amount, 4);
  EXPECT_EQ(f.message, "the stock has no hole for pin W in setup front");
}

TEST(PinBlocked, what_can_be_pressed_in_is_not_blocked) {
  EXPECT_TRUE(withPin(4.05, 12).empty());
  EXPECT_TRUE(withPin(4, 12).empty());
  EXPECT_TRUE(withPin(3.95, 12).empty());  // 0.05 all round, the limit itself
  ASSERT_EQ(withPin(3.949, 0).size(), 1u);
  EXPECT_NEAR(*withPin(3.949, 0)[0].amount, 0.051, 1e-12);
  EXPECT_EQ(withPin(3.949, 0)[0].message, "pin W does not fit its hole: 0.05 mm of material is in its way");
  EXPECT_EQ(withPin(3.949, 0)[0].help,
            "Centre the pin on the hole, or bore the hole 0.05 to 0.15 mm wider than the pin.");
  EXPECT_EQ(withPin(3.949, 0, true)[0].help,
            "Centre the pin on the hole, or bore the hole 0.002 to 0.006 in wider than the pin.");
}

TEST(PinBlocked, stock_that_only_sits_shifted_on_its_pins_is_left_to_the_rule_that_says_by_how_much) {
  Scene s;
  HoldDown pin = screw("pin W", {14, 45}, 8, -6);
  pin.kind = HoldDownKind::pin;
  pin.depth_in_stock_mm = 12;
  const int index = s.addHoldDown(pin);
  s.feed({30, 12, -3});
  s.run().pin_fits.push_back({0, index, 3.5, 0, 8.1, 8.1});
  EXPECT_EQ(s.findings(pin_blocked_rule).size(), 1u);
  s.run().pins_shifted.push_back({0, {0.5, 0}, 0});
  EXPECT_TRUE(s.findings(pin_blocked_rule).empty());
}

TEST(PinBlocked, where_another_flip_fits_that_is_told_and_no_hole_is_to_be_bored) {
  Scene s;
  HoldDown pin = screw("pin W", {14, 45}, 8, -6);
  pin.kind = HoldDownKind::pin;
  pin.depth_in_stock_mm = 12;
  const int index = s.addHoldDown(pin);
  s.setup().flip = Flip::left_right;
  s.feed({30, 12, -3});
  s.run().pin_fits.push_back({0, index, 0, 0, 8.1, 8.1});
  s.run().pins_flipped.push_back({0, Flip::front_back, 0});
  const auto findings = s.findings(pin_blocked_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message,
            "the stock has no hole for pin W in setup front; flipped front to back, it fits all its pins");
  EXPECT_EQ(findings[0].help,
            "If you place the stock flipped front to back, write `flip = \"front-back\"` in setup front. If not, the "
            "holes or the "
            "pins are in the wrong place.");
}

TEST(PinBlocked, a_hole_too_shallow_is_named_as_such) {
  const auto findings = withPin(0, 10);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message, "the hole for pin W is only 10 mm deep; the pin reaches 12 mm into the stock");
}

}  // namespace
}  // namespace provecut
