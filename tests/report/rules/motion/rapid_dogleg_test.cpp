#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// Equal rates: from (0, 0) to (100, 40) the way turns at (40, 40), 22.28344058125 mm off the straight line (geometry).
struct Dogleg : Scene {
  explicit Dogleg(Rapids rapids) {
    job().machine.rapids = rapids;
    job().machine.max_rate_mm_min = {5000, 5000, 3000};
    rapid({0, 0, 1});
    rapid({100, 40, 1});
  }
};

TEST(RapidDogleg, a_low_one_is_told_how_far_off_the_line_it_goes) {
  Dogleg s(Rapids::independent);
  const auto findings = s.findings(rapid_dogleg_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_EQ(findings[0].place.line, 2u);
  EXPECT_NEAR(*findings[0].amount, 22.28344058125, 1e-9);
}

TEST(RapidDogleg, at_the_clearance_height_or_along_one_axis_it_does_not_matter) {
  Dogleg s(Rapids::independent);
  s.last().start.z = s.last().end.z = s.job().limits.clearance_mm;
  EXPECT_TRUE(s.findings(rapid_dogleg_rule).empty());
  s.last().start.z = s.last().end.z = s.job().limits.clearance_mm - 0.001;
  EXPECT_EQ(s.findings(rapid_dogleg_rule).size(), 1u);
  s.last().end.y = 0;
  EXPECT_TRUE(s.findings(rapid_dogleg_rule).empty());
}

TEST(RapidDogleg, a_millimetre_off_the_line_is_let_be) {
  // To (100, y) the way turns at (y, y), y (100 - y) / sqrt(100^2 + y^2) off the line: 1.0 at y = 1.0102.
  Dogleg s(Rapids::independent);
  s.last().end.y = 1.010;
  EXPECT_TRUE(s.findings(rapid_dogleg_rule).empty());
  s.last().end.y = 1.011;
  EXPECT_EQ(s.findings(rapid_dogleg_rule).size(), 1u);
}

TEST(RapidDogleg, where_rapids_are_straight_only_what_a_dogleg_would_hit_is_said) {
  Dogleg s(Rapids::straight);
  EXPECT_TRUE(s.findings(rapid_dogleg_rule).empty());
  // Axis rates 5000: at (40, 40) the dogleg meets this screw, which the straight line passes by 22 mm.
  s.addHoldDown(screw("screw NW", {36, 42}, 9, 4.5));
  const auto findings = s.findings(rapid_dogleg_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].subject, "screw NW");
  // Far from both ways nothing is said.
  s.job().hold_downs[0].at_mm = {150, 80};
  EXPECT_TRUE(s.findings(rapid_dogleg_rule).empty());
}

TEST(RapidDogleg, nothing_is_known_of_the_machine_without_a_job_file) {
  Dogleg s(Rapids::independent);
  s.job().file.clear();
  EXPECT_TRUE(s.findings(rapid_dogleg_rule).empty());
}

}  // namespace
}  // namespace provecut
