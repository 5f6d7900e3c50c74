#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

struct Through : Scene {
  Through() {
    job().stock.thickness_tolerance_mm = 0.3;
    feed({60, 40, -18.1});
  }
  void doubt(double as_said_mm, double thickest_mm) {
    programRun().doubtful_throughs.push_back({lastIndex(), {60, 40, -18.1}, as_said_mm, thickest_mm, 300});
  }
};

TEST(NotThrough, says_by_how_little_it_goes_through_and_what_may_be_left) {
  Through s;
  s.doubt(0, 0.2);
  const auto findings = s.findings(not_through_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 0.2);
  EXPECT_EQ(findings[0].message, "goes through by only 0.1 mm; where the stock is 0.3 mm thicker, 0.2 mm is left");
  EXPECT_EQ(findings[0].help, "Cut at least 0.2 mm deeper, or set Z zero on the spoilboard.");
}

TEST(NotThrough, a_skin_thinner_than_the_tolerance_is_said_both_ways) {
  Through s;
  s.doubt(0.1, 0.4);
  const auto findings = s.findings(not_through_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message,
            "leaves a 0.1 mm skin; with the stock's ±0.3 mm it may be anything from nothing to 0.4 mm");
}

TEST(NotThrough, the_worst_of_a_program_counts_and_none_is_none) {
  Through s;
  EXPECT_TRUE(s.findings(not_through_rule).empty());
  s.doubt(0, 0.1);
  s.feed({80, 40, -18.1});
  s.doubt(0, 0.25);
  const auto findings = s.findings(not_through_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 0.25);
  EXPECT_EQ(findings[0].moves, 2u);
}

TEST(NotThrough, a_cut_to_the_underside_is_told_without_any_tolerance) {
  Through s;
  s.job().stock.thickness_tolerance_mm = 0;
  s.programRun().doubtful_throughs.push_back({s.lastIndex(), {}, 0, 0.05, 300, ThroughDoubt::exact, 0});
  const auto findings = s.findings(not_through_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message,
            "cuts exactly as deep as the stock is thick; the smallest error in Z leaves a thin skin");
  EXPECT_EQ(findings[0].help, "Cut 0.1 mm deeper, into the spoilboard.");
  EXPECT_DOUBLE_EQ(*findings[0].amount, 0);
  s.job().spoilboard.allowed_cut_mm = 0;
  EXPECT_EQ(s.findings(not_through_rule).at(0).help,
            "Cut 0.1 mm deeper, into the spoilboard. Set `spoilboard.allowed_cut` to 0.1 or more.");
}

TEST(NotThrough, what_thickness_as_sold_tells_is_left_to_it) {
  Through s;
  s.programRun().doubtful_throughs.push_back({s.lastIndex(), {}, 0, 0.4, 300, ThroughDoubt::as_sold, 0.3});
  EXPECT_TRUE(s.findings(not_through_rule).empty());
}

TEST(NotThrough, a_program_that_is_not_to_open_a_hole_has_none) {
  Through s;
  s.doubt(0.1, 0.4);
  s.setup().programs[0].through = false;
  EXPECT_TRUE(s.findings(not_through_rule).empty());
}

// One skin, one finding: what may be open is not also a thin floor; with through = false it is a floor and nothing
// else.
TEST(NotThrough, a_floor_within_the_tolerance_is_not_said_twice) {
  Through s;
  ThinFloor t;
  t.thickness_mm = 0.1;
  t.worst_mm = -0.2;
  t.moves_with_stock = 1;
  s.programRun().thin_floors.push_back(t);
  s.doubt(0.1, 0.4);
  EXPECT_TRUE(s.findings(floor_thin_rule).empty());
  s.setup().programs[0].through = false;
  EXPECT_EQ(s.findings(floor_thin_rule).size(), 1u);
  // A floor that does not go with the stock is in no doubt.
  s.setup().programs[0].through = true;
  s.programRun().thin_floors[0].moves_with_stock = 0;
  EXPECT_EQ(s.findings(floor_thin_rule).size(), 1u);
}

// A first job file takes the deepest cut for the thickness; what it guessed is told as not checked.
TEST(NotThrough, a_cut_to_an_underside_that_was_only_guessed_tells_nothing) {
  Through s;
  s.job().stock.thickness_tolerance_mm = 0;
  s.programRun().doubtful_throughs.push_back({s.lastIndex(), {}, 0, 0.05, 300, ThroughDoubt::exact, 0});
  s.job().unconfirmed.push_back({"[stock]", {"size"}, {}});
  EXPECT_TRUE(s.findings(not_through_rule).empty());
  // Measured, or deeper than the guess by a hair: that is no guess of ours.
  s.programRun().doubtful_throughs[0].beyond_mm = 0.03;
  EXPECT_EQ(s.findings(not_through_rule).size(), 1u);
  s.programRun().doubtful_throughs[0].beyond_mm = 0;
  s.job().unconfirmed[0] = {"[stock]", {"grain"}, {}};
  EXPECT_EQ(s.findings(not_through_rule).size(), 1u);
  s.job().unconfirmed[0] = {"[spoilboard]", {"size"}, {}};
  EXPECT_EQ(s.findings(not_through_rule).size(), 1u);
}

// 18 mm MDF without a tolerance: a foil may stay whatever the sheet measures.
TEST(NotThrough, a_cut_through_a_sheet_by_less_than_a_foil_is_a_look_and_no_note) {
  Through s;
  s.job().stock.thickness_tolerance_mm = 0;
  s.job().stock.material = Material::mdf;
  s.job().stock.material_given = true;
  const auto through_by = [&](double mm) {
    s.programRun().doubtful_throughs = {{s.lastIndex(), {}, 0, 0.2 - mm, 300, ThroughDoubt::as_sold, mm}};
  };
  for (const double mm : {0.0, 0.049}) {
    through_by(mm);
    EXPECT_EQ(s.findings(not_through_rule).size(), 1u) << mm;
    EXPECT_TRUE(s.findings(thickness_as_sold_rule).empty()) << mm;
  }
  through_by(0.06);
  EXPECT_TRUE(s.findings(not_through_rule).empty());
  EXPECT_EQ(s.findings(thickness_as_sold_rule).size(), 1u);
}

}  // namespace
}  // namespace provecut
