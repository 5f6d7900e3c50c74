#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

struct Held : Scene {
  Held() {
    addHoldDown(clamp("clamp N", {100, 110}, {30, 40}, 20));
    feed({60, 40, -3});
    cuts(3, 3);
    programRun().removed_mm3 = 500;
    PieceHeld stock;
    programRun().holding.push_back(stock);
  }
};

TEST(StockUnheld, a_program_without_a_hold_down_in_a_job_that_has_some_is_found) {
  Held s;
  s.setup().programs[0].hold_downs.clear();
  const auto findings = s.findings(stock_unheld_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].message, "no hold-down is listed for this program");
}

TEST(StockUnheld, a_clamp_beside_the_stock_holds_nothing) {
  Held s;
  const auto findings = s.findings(stock_unheld_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message, "this program's hold-downs do not hold the stock");
}

TEST(StockUnheld, jaws_that_do_not_grip_are_sent_to_their_places) {
  Held s;
  HoldDown jaw = clamp("jaw", {100, -20}, {60, 20}, -4);
  jaw.kind = HoldDownKind::vise;
  s.setup().programs[0].hold_downs = {s.addHoldDown(jaw)};
  const auto findings = s.findings(stock_unheld_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].help,
            "Jaws and side clamps hold only where two touch the stock from opposite sides: check where they are.");
}

TEST(StockUnheld, pins_alone_hold_nothing_down) {
  Held s;
  HoldDown pin = clamp("pin W", {10, 40}, {6, 6}, -12);
  pin.kind = HoldDownKind::pin;
  s.setup().programs[0].hold_downs = {s.addHoldDown(pin)};
  const auto findings = s.findings(stock_unheld_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message, "only pins are listed for this program; they locate the stock, but do not hold it");
}

TEST(StockUnheld, one_that_reaches_it_is_enough_and_a_program_that_takes_nothing_needs_none) {
  Held s;
  s.programRun().holding[0].by = {0};
  EXPECT_TRUE(s.findings(stock_unheld_rule).empty());
  s.programRun().holding[0].by.clear();
  s.programRun().removed_mm3 = 0;
  EXPECT_TRUE(s.findings(stock_unheld_rule).empty());
}

TEST(StockUnheld, a_job_without_any_hold_down_says_nothing_of_what_holds) {
  Held s;
  s.job().hold_downs.clear();
  s.setup().programs[0].hold_downs.clear();
  EXPECT_TRUE(s.findings(stock_unheld_rule).empty());
}

}  // namespace
}  // namespace provecut
