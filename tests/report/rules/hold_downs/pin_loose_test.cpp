#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

struct Hole {
  double along, across;
};

// Pins of 8 mm in these holes.
std::vector<Finding> withHoles(std::vector<Hole> holes) {
  Scene s;
  for (const Hole& hole : holes) {
    HoldDown pin = screw("pin " + std::to_string(s.job().hold_downs.size()), {14, 45}, 8, -6);
    pin.kind = HoldDownKind::pin;
    const int index = s.addHoldDown(pin);
    s.run().pin_fits.push_back({0, index, 4, 12, hole.along, hole.across});
  }
  s.feed({30, 12, -3});
  return s.findings(pin_loose_rule);
}

TEST(PinLoose, two_tenths_of_play_are_enough_and_a_micrometre_more_is_loose) {
  EXPECT_TRUE(withHoles({{8.2, 8.2}, {8.1, 8.1}}).empty());
  const auto findings = withHoles({{8.201, 8.201}, {8.1, 8.1}});
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].subject, "pin 0");
  EXPECT_NEAR(*findings[0].amount, 0.201, 1e-9);
  EXPECT_EQ(findings[0].message, "the hole for pin 0 is 0.201 mm wider than the pin (maximum 0.2 mm)");
}

TEST(PinLoose, a_hole_and_a_slot_along_the_line_of_the_pins_are_sound) {
  EXPECT_TRUE(withHoles({{8.1, 8.1}, {16, 8.1}}).empty());
  EXPECT_EQ(withHoles({{16, 8.1}, {16, 8.1}}).size(), 2u);   // now the stock slides
  EXPECT_EQ(withHoles({{8.1, 8.1}, {8.1, 16}}).size(), 1u);  // a slot across lets it turn
}

TEST(PinLoose, a_single_pin_counts_by_its_narrowest) {
  EXPECT_TRUE(withHoles({{8.15, 8.15}}).empty());
  EXPECT_EQ(withHoles({{8.5, 8.5}}).size(), 1u);
}

TEST(PinLoose, one_that_does_not_go_in_is_not_called_loose) {
  Scene s;
  HoldDown pin = screw("pin", {14, 45}, 8, -6);
  pin.kind = HoldDownKind::pin;
  s.run().pin_fits.push_back({0, s.addHoldDown(pin), 0, 0, 9, 9});
  EXPECT_TRUE(s.findings(pin_loose_rule).empty());
}

}  // namespace
}  // namespace provecut
