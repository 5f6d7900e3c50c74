#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// A slot in 12 mm plywood, on line 2; what the simulation found of it.
struct SoldSheet : Scene {
  SoldSheet() {
    job().stock.material = Material::plywood;
    job().stock.material_given = true;
    job().stock.size_mm.z = 12;
    feed({60, 40, -6});
    feed({60, 40, -12.3});
  }
  void doubt(double as_said_mm, double beyond_mm, ThroughDoubt why = ThroughDoubt::as_sold) {
    programRun().doubtful_throughs.push_back(
        {lastIndex(), {60, 40, -12}, as_said_mm, as_said_mm + 0.56 - beyond_mm, 300, why, beyond_mm});
  }
  std::string message() { return findings(thickness_as_sold_rule).at(0).message; }
};

// EN 315: 12 mm sanded plywood is 11.24 to 12.56 mm thick.
TEST(ThicknessAsSold, says_how_deep_the_cut_goes_and_what_such_a_sheet_may_measure) {
  SoldSheet s;
  EXPECT_TRUE(s.findings(thickness_as_sold_rule).empty());
  s.doubt(0, 0.3);
  const auto findings = s.findings(thickness_as_sold_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_EQ(findings[0].place.line, 2u);
  EXPECT_NEAR(*findings[0].amount, 0.56, 1e-9);
  EXPECT_EQ(findings[0].message, "goes through by only 0.3 mm; a sheet sold as 12 mm may measure 11.24 to 12.56 mm");
}

TEST(ThicknessAsSold, a_skin_is_told_as_such_and_a_cut_to_the_underside_is_not_throughs) {
  SoldSheet s;
  s.doubt(0, 0);
  EXPECT_TRUE(s.findings(thickness_as_sold_rule).empty());
  SoldSheet skin;
  skin.doubt(0.4, 0);
  EXPECT_EQ(skin.message(), "leaves a 0.4 mm skin; a sheet sold as 12 mm may measure 11.24 to 12.56 mm");
}

TEST(ThicknessAsSold, what_the_jobs_own_tolerance_leaves_in_doubt_is_not_throughs) {
  SoldSheet s;
  s.doubt(0, 0.1, ThroughDoubt::tolerance);
  EXPECT_TRUE(s.findings(thickness_as_sold_rule).empty());
}

TEST(ThicknessAsSold, a_cut_to_an_underside_that_was_only_guessed_tells_nothing) {
  SoldSheet s;
  s.job().unconfirmed.push_back({"[stock]", {"size"}, {}});
  s.doubt(0, 0);
  EXPECT_TRUE(s.findings(thickness_as_sold_rule).empty());
  s.doubt(0, 0.3);
  EXPECT_EQ(s.findings(thickness_as_sold_rule).size(), 1u);
}

}  // namespace
}  // namespace provecut
