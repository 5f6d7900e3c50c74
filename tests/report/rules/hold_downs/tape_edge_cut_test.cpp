#include <gtest/gtest.h>

#include "sim/run.h"
#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// Stock of 200 x 100 x 18 mm on a tape from X 80 to 120, Y 30 to 70; a 6 mm cutter along Y 50 at `z`.
struct TapedStock : Scene {
  TapedStock(double from_x, double to_x, double z) {
    HoldDown tape = clamp("tape 1", {100, 50}, {40, 40}, -18);
    tape.kind = HoldDownKind::tape;
    addHoldDown(tape);
    rapid({from_x, 50, 5});
    feed({from_x, 50, z});
    feed({to_x, 50, z});
  }
  std::vector<Finding> check() {
    Programs programs;
    for (std::size_t i = 0; i < setup().programs.size(); ++i) programs.add(program(i));
    run() = provecut::run(job(), programs);
    return findings(tape_edge_cut_rule);
  }
};

TEST(TapeEdgeCut, a_cut_that_runs_into_the_tape_below_the_stock_is_told) {
  TapedStock s(40, 100, -18.3);
  const auto findings = s.check();
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].place.line, 3u);
  EXPECT_EQ(findings[0].subject, "tape 1");
  EXPECT_NEAR(findings[0].at->x, 77, 1e-3);  // the tape's edge at 80 less the cutter's radius
  EXPECT_EQ(findings[0].message, "the cutter runs into the edge of tape 1, 0.3 mm below the stock");
  EXPECT_EQ(findings[0].help, "Lay the tape inside the part, clear of the path. Or cut no deeper than Z -18 mm there.");
}

TEST(TapeEdgeCut, a_cut_just_to_the_underside_or_just_short_of_the_tape_is_not) {
  EXPECT_TRUE(TapedStock(40, 100, -18).check().empty());
  EXPECT_TRUE(TapedStock(40, 76.99, -18.3).check().empty());
  EXPECT_EQ(TapedStock(40, 77.01, -18.3).check().size(), 1u);
}

TEST(TapeEdgeCut, a_cut_that_goes_down_in_the_tape_and_stays_in_it_or_leaves_it_is_not) {
  EXPECT_TRUE(TapedStock(90, 110, -18.3).check().empty());
  EXPECT_TRUE(TapedStock(100, 40, -18.3).check().empty());
}

TEST(TapeEdgeCut, a_ramp_that_comes_down_inside_the_tape_meets_no_edge) {
  TapedStock inside(90, 90, 1);
  inside.feed({110, 50, -18.3});
  EXPECT_TRUE(inside.check().empty());
  TapedStock across(40, 40, -17.9);
  across.feed({100, 50, -18.5});
  EXPECT_EQ(across.check().size(), 1u);
}

TEST(TapeEdgeCut, tape_that_a_setup_is_held_by_has_no_edge_that_is_known) {
  TapedStock s(40, 100, -18.3);
  s.setup().place = {12, 1, 2};
  EXPECT_EQ(s.check().size(), 1u);
  s.job().hold_downs.back().place = s.setup().place;
  EXPECT_TRUE(s.check().empty());
}

TEST(TapeEdgeCut, thicker_stock_lies_on_its_tape_all_the_same) {
  TapedStock s(40, 100, -18.3);
  s.job().stock.size_mm.z = 18.4;
  s.setup().zero_mm.z = 18.4;
  EXPECT_TRUE(s.check().empty());
}

}  // namespace
}  // namespace provecut
