#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// The stock ends at X 200; the cutter's radius is 3, so that its rim is 10 mm away when its axis is at 213.
struct Beside : Scene {
  explicit Beside(double x, double z = -5) {
    feed({150, 20, -5});
    cuts(5, 5);
    feed({x, 20, z});
    cuts(5, 5);
  }
};

TEST(CutOutsideStock, ten_millimetres_are_a_way_out_and_a_micrometre_more_is_not) {
  EXPECT_TRUE(Beside(213).findings(cut_outside_stock_rule).empty());
  const auto findings = Beside(213.001).findings(cut_outside_stock_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_NEAR(*findings[0].amount, 10.001, 1e-9);
}

TEST(CutOutsideStock, a_wide_cutter_may_go_out_by_its_diameter) {
  Beside s(228);
  s.tool().diameter_mm = 20;
  EXPECT_TRUE(s.findings(cut_outside_stock_rule).empty());
  s.last().end.x = 230.1;
  EXPECT_EQ(s.findings(cut_outside_stock_rule).size(), 1u);
}

TEST(CutOutsideStock, above_the_stock_and_at_rapid_it_is_no_cut) {
  Beside s(213, -5);
  s.feed({213, 20, 5});
  s.feed({300, 20, 5});
  s.rapid({300, 20, -5});
  EXPECT_TRUE(s.findings(cut_outside_stock_rule).empty());
}

TEST(CutOutsideStock, an_arc_counts_where_it_bulges) {
  Beside s(200);
  s.arc({200, 60, -5}, {200, 40}, Plane::xy, false);  // out to X 220
  const auto findings = s.findings(cut_outside_stock_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_NEAR(*findings[0].amount, 17, 0.01);
}

TEST(CutOutsideStock, a_program_that_never_touches_the_stock_is_left_to_cuts_nothing) {
  Scene s;
  s.feed({300, 20, -5});
  EXPECT_TRUE(s.findings(cut_outside_stock_rule).empty());
}

}  // namespace
}  // namespace provecut
