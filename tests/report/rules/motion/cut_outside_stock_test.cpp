#include <gtest/gtest.h>

#include <cmath>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// The stock ends at X 200; the cutter's radius is 3, so that its rim is 10 mm away when its axis is at 213. A part
// whose edge lies outside: the tool turns there.
struct Beside : Scene {
  explicit Beside(double x, double z = -5) {
    feed({150, 20, -5});
    cuts(5, 5);
    feed({x, 20, z});
    cuts(5, 5);
    feed({x, 60, z});
    feed({150, 30, z});
    cuts(5, 5);
  }
};

// The same, where a comment begins another setup before (or behind) the cuts that run off. The scene's moves stand on
// lines of their own.
struct TwoSetups : Beside {
  explicit TwoSetups(bool both_run_off) : Beside(240) {
    feed({both_run_off ? 240.0 : 150.0, 20, -5});
    cuts(5, 5);
    feed({both_run_off ? 240.0 : 150.0, 60, -5});
    feed({150, 30, -5});
    cuts(5, 5);
    text() = "G1 X150\nX240\nY60\nX150\n\n\n\n";
    text() += "M0 (flip the part)\nX1\nX2\nX3\n";
    for (std::uint32_t m = 4; m < 7; ++m) program().motions[m].line = m + 5;
  }
};

// A dado across the stock, and on by so much.
struct Dado : Scene {
  explicit Dado(double beyond) {
    rapid({-203 + 200 - beyond, 50, -5});
    feed({203 + beyond, 50, -5});
    cuts(5, 5);
    rapid({203 + beyond, 50, 20});
  }
};

// Facing passes along X that turn `beyond` outside, one step farther each.
struct Facing : Scene {
  explicit Facing(double beyond, double step = 4) {
    rapid({-3 - beyond, 0, -1});
    for (int k = 0; k < 6; ++k) {
      const double x = k % 2 ? -3 - beyond : 203 + beyond;
      feed({x, k * step, -1});
      cuts(1, 1);
      feed({x, (k + 1) * step, -1});
    }
  }
};

TEST(CutOutsideStock, what_another_setup_of_the_program_cuts_is_not_this_stock) {
  EXPECT_TRUE(TwoSetups(false).findings(cut_outside_stock_rule).empty());
  EXPECT_EQ(TwoSetups(true).findings(cut_outside_stock_rule).size(), 1u);
  TwoSetups accepted(false);
  accepted.job().accepts.push_back({"setup-change", {}, {}, "the comment is old", {}, {}});
  EXPECT_EQ(accepted.findings(cut_outside_stock_rule).size(), 1u);
}

TEST(CutOutsideStock, the_overrun_of_a_dado_is_no_cut_outside) {
  EXPECT_TRUE(Dado(32).findings(cut_outside_stock_rule).empty());
  const auto findings = Dado(32.001).findings(cut_outside_stock_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_NEAR(*findings[0].amount, 32.001, 1e-9);
}

TEST(CutOutsideStock, facing_passes_turn_outside_the_stock) {
  EXPECT_TRUE(Facing(20).findings(cut_outside_stock_rule).empty());
  EXPECT_EQ(Facing(33).findings(cut_outside_stock_rule).size(), 1u);
  EXPECT_EQ(Facing(20, 13).findings(cut_outside_stock_rule).size(), 1u) << "two diameters on it is no step";
}

// An outline milled round the block, with a straight way in and out of 30 mm.
TEST(CutOutsideStock, a_lead_in_and_a_lead_out_are_no_cut_outside) {
  const auto round = [](double lead) {
    Scene s;
    s.rapid({-3 - lead, -3, -5});
    s.feed({-3, -3, -5});
    for (const WorkPoint to : {WorkPoint{203, -3, -5}, {203, 103, -5}, {-3, 103, -5}, {-3, -3, -5}}) {
      s.feed(to);
      s.cuts(5, 5);
    }
    s.feed({-3, -3 - lead, -5});
    s.rapid({-3, -3 - lead, 20});
    return s.findings(cut_outside_stock_rule).size();
  };
  EXPECT_EQ(round(30), 0u);
  EXPECT_EQ(round(33), 1u);
}

TEST(CutOutsideStock, an_edge_of_the_part_beside_the_stock_is_no_way_in) {
  Scene s;
  s.rapid({215, 10, -5});
  s.feed({215, 90, -5});  // 80 mm along the edge, 12 mm off
  s.feed({100, 90, -5});
  s.cuts(5, 5);
  EXPECT_EQ(s.findings(cut_outside_stock_rule).size(), 1u);
}

TEST(CutOutsideStock, a_corner_of_the_part_beside_the_stock_is_no_overrun) {
  Scene s;
  s.feed({180, 20, -5});
  s.cuts(5, 5);
  s.feed({215, 55, -5});  // out at 45 degrees, and back at a right angle to it
  s.cuts(5, 5);
  s.feed({180, 90, -5});
  s.cuts(5, 5);
  EXPECT_EQ(s.findings(cut_outside_stock_rule).size(), 1u);
}

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
  Beside farther(230.1);
  farther.tool().diameter_mm = 20;
  EXPECT_EQ(farther.findings(cut_outside_stock_rule).size(), 1u);
}

// Round stock of 200 mm: a corner of the square around it is 41.4 mm from its edge (geometry).
TEST(CutOutsideStock, round_stock_has_no_corners) {
  Scene s;
  s.job().stock.size_mm = {200, 200, 18};
  s.feed({100, 100, -5});
  s.cuts(5, 5);
  s.feed({2, 2, -5});
  s.cuts(5, 5);
  EXPECT_TRUE(s.findings(cut_outside_stock_rule).empty());
  s.job().stock.shape = StockShape::round;
  const auto findings = s.findings(cut_outside_stock_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_NEAR(*findings[0].amount, std::hypot(98, 98) - 100 - 3, 1e-9);
}

TEST(CutOutsideStock, above_the_stock_and_at_rapid_it_is_no_cut) {
  Beside s(213, -5);
  s.feed({213, 30, -5});
  s.feed({213, 20, 5});
  s.feed({300, 20, 5});
  s.rapid({300, 20, -5});
  EXPECT_TRUE(s.findings(cut_outside_stock_rule).empty());
}

TEST(CutOutsideStock, an_arc_counts_where_it_bulges) {
  Scene s;
  s.feed({200, 20, -5});
  s.cuts(5, 5);
  s.arc({200, 60, -5}, {200, 40}, Plane::xy, false);  // out to X 220
  s.feed({150, 60, -5});
  s.cuts(5, 5);
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
