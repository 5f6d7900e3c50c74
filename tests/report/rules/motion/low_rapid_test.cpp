#include <gtest/gtest.h>

#include <cmath>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// Stock of 400 × 100 mm: a two-hundredth of its longer side is 2 mm.
struct Low : Scene {
  Low() {
    job().limits.clearance_mm = 3;
    job().stock.size_mm = {400, 100, 18};
  }
};

TEST(LowRapid, a_crossing_one_millimetre_above_the_stock_is_low) {
  Low s;
  s.rapid({20, 20, 1});
  s.rapid({180, 20, 1});
  const auto findings = s.findings(low_rapid_rule);
  ASSERT_EQ(findings.size(), 1u);
  const Finding& f = findings[0];
  EXPECT_EQ(f.level, Level::look);
  EXPECT_EQ(f.subject, "");
  EXPECT_EQ(f.message, "rapid clears the stock by only 1 mm (minimum 2 mm)");
  EXPECT_EQ(f.help, "Stay at Z 2 mm or higher on these moves.");
  EXPECT_NEAR(*f.amount, 1, 1e-12);
  EXPECT_EQ(f.moves, 2u);  // the slanting way down to it is one too
}

TEST(LowRapid, a_two_hundredth_of_the_stocks_length_is_high_enough_over_it) {
  Low s;
  s.rapid({20, 20, 2});
  s.rapid({180, 20, 2});
  EXPECT_TRUE(s.findings(low_rapid_rule).empty());
}

TEST(LowRapid, half_a_millimetre_is_enough_over_stock_that_the_program_has_probed) {
  Low s;
  s.feed({20, 20, 0}).kind = MotionKind::probe;
  s.rapid({20, 20, 0.5});
  s.rapid({180, 20, 0.5});
  EXPECT_TRUE(s.findings(low_rapid_rule).empty());
  s.rapid({180, 40, 0.4});
  const auto findings = s.findings(low_rapid_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message, "rapid clears the stock by only 0.4 mm (minimum 0.5 mm)");
}

TEST(LowRapid, a_probe_that_comes_later_does_not_help_the_rapid_before_it) {
  Low s;
  s.rapid({20, 20, 0.5});
  s.rapid({180, 20, 0.5});
  s.feed({20, 20, 0}).kind = MotionKind::probe;
  EXPECT_EQ(s.findings(low_rapid_rule).size(), 1u);
}

TEST(LowRapid, a_height_written_in_inches_is_high_enough) {
  Low s;
  s.rapid({20, 20, 0.0787 * 25.4});
  s.rapid({180, 20, 0.0787 * 25.4});
  EXPECT_TRUE(s.findings(low_rapid_rule).empty());
}

TEST(LowRapid, a_hundredth_of_a_millimetre_less_is_low) {
  Low s;
  s.rapid({-10, 20, 1.99});
  s.rapid({180, 20, 1.99});
  const auto findings = s.findings(low_rapid_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].place.line, 2u);
  EXPECT_EQ(findings[0].message, "rapid clears the stock by only 1.99 mm (minimum 2 mm)");
}

TEST(LowRapid, a_small_board_needs_a_millimetre_and_a_whole_sheet_two) {
  Low board;
  board.job().stock.size_mm = {80, 60, 18};
  board.rapid({20, 20, 1});
  board.rapid({60, 20, 1});
  EXPECT_TRUE(board.findings(low_rapid_rule).empty());
  board.rapid({20, 20, 0.99});
  EXPECT_EQ(board.findings(low_rapid_rule).size(), 1u);
  Low sheet;
  sheet.job().stock.size_mm = {2440, 1220, 18};
  sheet.rapid({20, 20, 2});
  sheet.rapid({60, 20, 2});
  EXPECT_TRUE(sheet.findings(low_rapid_rule).empty());
  sheet.rapid({20, 20, 1.99});
  EXPECT_EQ(sheet.findings(low_rapid_rule).size(), 1u);
}

TEST(LowRapid, straight_up_and_down_is_no_crossing) {
  Low s;
  s.rapid({50, 50, 10});
  s.rapid({50, 50, 1});
  s.rapid({50, 50, 10});
  EXPECT_TRUE(s.findings(low_rapid_rule).empty());
}

// Past a disc of 200 mm, a micrometre beside its rim and a micrometre within it; the rapid passes its square's edge far
// inside either way.
TEST(LowRapid, round_stock_is_exact_to_the_micrometre_and_has_no_corners) {
  const auto past = [](double from_middle) {
    Low s;
    s.job().stock.size_mm = {200, 200, 18};
    s.job().stock.shape = StockShape::round;
    // Along the diagonal's normal, from beside the square to beside it.
    const double half = from_middle / std::sqrt(2.0);
    s.rapid({100 + half - 120, 100 + half + 120, 20});
    s.rapid({100 + half - 120, 100 + half + 120, 0.5});
    s.rapid({100 + half + 120, 100 + half - 120, 0.5});
    return s.findings(low_rapid_rule).size();
  };
  EXPECT_EQ(past(100.001), 0u);
  EXPECT_EQ(past(99.999), 1u);
}

TEST(LowRapid, beside_the_stock_a_rapid_may_be_low) {
  Low s;
  s.rapid({-20, -5, 20});
  s.rapid({-20, -5, -10});
  s.rapid({230, -5, -10});  // along the front edge, 5 mm off
  s.rapid({230, 0, -10});
  s.rapid({-20, 0, -10});  // along the very edge
  EXPECT_TRUE(s.findings(low_rapid_rule).empty());
}

TEST(LowRapid, the_height_over_the_stock_counts_not_that_at_the_ends) {
  Low s;
  s.job().stock.size_mm = {200, 100, 18};  // wants 1 mm
  s.rapid({-100, 50, 20});
  // From Z 20 at X -100 to Z 0 at X 300: over the stock from Z 15 (X 0) down to Z 5 (X 200).
  s.rapid({300, 50, 0});
  EXPECT_TRUE(s.findings(low_rapid_rule).empty());
  // Back at Z 0 the start is off the stock, but from X 200 on it is over it.
  s.rapid({-100, 50, 2});  // at X 200 it is at Z 0.5
  const auto findings = s.findings(low_rapid_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_NEAR(*findings[0].amount, 0.5, 1e-9);
  EXPECT_NEAR(findings[0].at->x, 200, 1e-9);
}

TEST(LowRapid, a_rapid_in_what_is_cut_away_is_below_the_top) {
  Low s;
  s.rapid({50, 50, 20});
  s.rapid({50, 50, -3});  // into what an earlier program cut
  s.rapid({90, 50, -3});
  const auto findings = s.findings(low_rapid_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message, "rapid crosses the stock 3 mm below its top, through space already cut");
  EXPECT_NEAR(*findings[0].amount, -3, 1e-12);
}

// Roughing by many small passes stays down on its way from one to the next.
TEST(LowRapid, a_rapid_that_stays_down_in_its_own_cut_is_as_meant) {
  Low s;
  s.feed({50, 50, -3});
  s.cuts(3, 3);
  s.feed({90, 50, -3});
  s.cuts(3, 3);
  s.rapid({50, 50, -2.5});
  EXPECT_TRUE(s.findings(low_rapid_rule).empty());
  Low other;
  other.feed({90, 50, -3});
  other.cuts(3, 3);
  other.rapid({50, 50, -2.5}).tool = 2;
  EXPECT_EQ(other.findings(low_rapid_rule).size(), 1u) << "another tool has another length";
  Low again;
  again.feed({90, 50, -3});
  again.cuts(3, 3);
  again.rapid({90, 50, 5});
  again.rapid({50, 50, 5});
  again.rapid({50, 50, -2});
  again.rapid({80, 50, -2});
  EXPECT_EQ(again.findings(low_rapid_rule).size(), 1u) << "it came up in between";
}

TEST(LowRapid, a_rapid_that_cuts_is_not_counted_again) {
  Low s;
  s.feed({50, 50, -3});
  s.rapid({90, 50, -3});
  s.cuts(3, 3);
  EXPECT_TRUE(s.findings(low_rapid_rule).empty());
}

TEST(LowRapid, over_a_screw_head_the_head_counts) {
  Low s;
  s.addHoldDown(screw("screw SW", {50, 50}, 10, 4.5));
  s.rapid({20, 50, 6});
  s.rapid({90, 50, 6});
  const auto findings = s.findings(low_rapid_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].subject, "screw SW");
  EXPECT_EQ(findings[0].message, "rapid clears screw SW by only 1.5 mm (minimum 3 mm)");
  EXPECT_EQ(findings[0].help, "Retract to Z 7.5 mm or higher before this move.");
}

TEST(LowRapid, past_a_screw_head_or_high_over_it_is_fine) {
  Low s;
  s.addHoldDown(screw("screw SW", {50, 50}, 10, 4.5));
  s.rapid({20, 56, 6});
  s.rapid({90, 56, 6});  // 1 mm beside the head
  s.rapid({90, 50, 7.5});
  s.rapid({20, 50, 7.5});
  EXPECT_TRUE(s.findings(low_rapid_rule).empty());
}

TEST(LowRapid, a_hold_down_that_this_program_does_not_list_does_not_count) {
  Low s;
  s.addHoldDown(screw("screw SW", {50, 50}, 10, 4.5));
  s.setup().programs[0].hold_downs.clear();
  s.rapid({20, 50, 6});
  s.rapid({90, 50, 6});
  EXPECT_TRUE(s.findings(low_rapid_rule).empty());
}

TEST(LowRapid, over_a_clamp_turned_by_an_angle) {
  Low s;
  HoldDown h = clamp("clamp N", {100, 50}, {60, 20}, 15);
  h.angle_deg = 90;  // 20 along X, 60 along Y
  s.addHoldDown(h);
  s.rapid({89, 10, 16});
  s.rapid({89, 90, 16});  // 1 mm left of it
  EXPECT_TRUE(s.findings(low_rapid_rule).empty());
  s.rapid({91, 90, 18});
  s.rapid({91, 10, 16});
  const auto findings = s.findings(low_rapid_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].subject, "clamp N");
  EXPECT_NEAR(*findings[0].amount, 1 + 2 * 10.0 / 80, 1e-9);  // Z at Y 20, where the clamp ends
}

TEST(LowRapid, axes_that_run_independently_go_round_a_corner) {
  Low s;
  s.addHoldDown(screw("screw SW", {40, 40}, 10, 4.5));
  s.job().machine.max_rate_mm_min = {5000, 5000, 3000};
  s.rapid({0, 0, 6});
  s.rapid({100, 40, 6});
  EXPECT_TRUE(s.findings(low_rapid_rule).empty());
  // Both axes at the same rate turn at (40, 40), right over the head (geometry).
  s.job().machine.rapids = Rapids::independent;
  EXPECT_EQ(s.findings(low_rapid_rule).size(), 1u);
}

TEST(LowRapid, a_hold_down_that_is_hit_is_not_said_again) {
  Low s;
  const int sw = s.addHoldDown(screw("screw SW", {50, 50}, 10, 4.5));
  s.rapid({20, 50, 4});
  s.rapid({90, 50, 4});
  Contact c;
  c.move = s.lastIndex();
  c.hold_down = sw;
  s.programRun().contacts.push_back(c);
  EXPECT_TRUE(s.findings(low_rapid_rule).empty());
}

TEST(LowRapid, a_rapid_told_as_close_to_a_screw_is_not_told_again_and_another_one_over_it_is) {
  Low s;
  const int sw = s.addHoldDown(screw("screw SW", {50, 50}, 10, 4.5));
  s.rapid({20, 50, 6});
  s.rapid({90, 50, 6});
  NearPass near;
  near.move = s.lastIndex();
  near.hold_down = sw;
  near.clearance_mm = 1.5;
  s.programRun().near_passes.push_back(near);
  EXPECT_TRUE(s.findings(low_rapid_rule).empty());
  ASSERT_EQ(s.findings(hold_down_close_rule).size(), 1u);
  s.rapid({20, 50, 6});
  ASSERT_EQ(s.findings(low_rapid_rule).size(), 1u);
  EXPECT_EQ(s.findings(low_rapid_rule)[0].place.line, 3u);
}

TEST(LowRapid, a_rapid_that_comes_down_over_a_screw_is_to_come_down_after_its_way) {
  Low s;
  s.addHoldDown(screw("screw SW", {50, 50}, 10, 4.5));
  s.rapid({20, 50, 9});
  s.rapid({80, 50, 5});
  s.feed({80, 60, 5});
  EXPECT_EQ(s.findings(low_rapid_rule).at(0).help, "Stay at Z 7.5 mm or higher on this move, and come down after it.");
}

// G98 goes back up to where the cycle began: here that is low too.
TEST(LowRapid, going_back_up_is_offered_only_where_the_cycle_began_high_enough) {
  Low s;
  s.addHoldDown(screw("screw SW", {50, 50}, 10, 4.5));
  s.rapid({20, 50, 6});
  s.rapid({90, 50, 6}).flags |= motion_in_cycle;
  EXPECT_EQ(s.findings(low_rapid_rule).at(0).help, "Raise this cycle's R to 7.5 mm.");
}

TEST(LowRapid, in_a_drilling_cycle_r_is_to_be_raised) {
  Low s;
  for (const double x : {10, 50}) s.rapid({x, 10, 1}).flags |= motion_in_cycle;
  EXPECT_EQ(s.findings(low_rapid_rule).at(0).help,
            "Raise this cycle's R to 2 mm, or use G98 to go back up between holes.");
  // What is typed in is an R, in the program's unit; under G91 it would be an increment.
  s.program().modal.ever_inch = true;
  s.program().modal.ever_mm = false;
  EXPECT_EQ(s.findings(low_rapid_rule).at(0).help,
            "Raise this cycle's R to 2 mm (R0.0788 in this inch program), or use G98 to go back up between holes.");
  s.program().modal.ever_incremental = true;
  EXPECT_EQ(s.findings(low_rapid_rule).at(0).help,
            "Raise this cycle's R until it reaches Z 2 mm, or use G98 to go back up between holes.");
}

TEST(LowRapid, along_the_very_top_is_no_clearance_of_nothing) {
  Scene s;
  s.rapid({10, 50, 0});
  s.rapid({190, 50, 0});
  const auto findings = s.findings(low_rapid_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message, "rapid runs along the very top of the stock");
}

}  // namespace
}  // namespace provecut
