#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// A sheet of 3 mm clamped at its left end, up to X 10; the cut ends at `x`.
struct Sheet : Scene {
  explicit Sheet(double x, double thickness = 3) {
    job().stock.size_mm.z = thickness;
    setup().zero_mm.z = thickness;
    addHoldDown(clamp("clamp W", {0, 50}, {20, 100}, 10));
    rapid({20, 50, 5});
    feed({20, 50, -1});
    feed({x, 50, -1});
    cuts(1, 1);
  }
};

TEST(ThinStockLift, seventy_five_millimetres_from_the_clamp_are_near_enough) {
  EXPECT_TRUE(Sheet(85).findings(thin_stock_lift_rule).empty());
  const auto findings = Sheet(85.01).findings(thin_stock_lift_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_NEAR(*findings[0].amount, 75.01, 1e-9);
  EXPECT_NE(findings[0].message.find("76 mm from the nearest hold-down"), std::string::npos) << findings[0].message;
}

TEST(ThinStockLift, six_millimetres_are_thick_enough) {
  EXPECT_TRUE(Sheet(180, 6).findings(thin_stock_lift_rule).empty());
  EXPECT_EQ(Sheet(180, 5.99).findings(thin_stock_lift_rule).size(), 1u);
}

TEST(ThinStockLift, tape_holds_and_pins_do_not) {
  Sheet s(180);
  HoldDown tape = clamp("tape", {150, 50}, {100, 50}, 0);
  tape.kind = HoldDownKind::pin;
  s.addHoldDown(tape);
  EXPECT_EQ(s.findings(thin_stock_lift_rule).size(), 1u);
  s.job().hold_downs[1].kind = HoldDownKind::tape;
  EXPECT_TRUE(s.findings(thin_stock_lift_rule).empty());
}

TEST(ThinStockLift, a_vee_a_compression_bit_and_a_sheet_of_unknown_hold_are_left_out) {
  Sheet vee(180);
  vee.tool().shape = ToolShape::vee;
  EXPECT_TRUE(vee.findings(thin_stock_lift_rule).empty());
  Sheet compression(180);
  compression.tool().up_cut_length_mm = 8;
  EXPECT_TRUE(compression.findings(thin_stock_lift_rule).empty());
  Sheet vacuum(180);
  vacuum.setup().programs[0].hold_downs.clear();
  EXPECT_TRUE(vacuum.findings(thin_stock_lift_rule).empty());
}

}  // namespace
}  // namespace provecut
