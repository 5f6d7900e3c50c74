#include <gtest/gtest.h>

#include <limits>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// A rapid straight down to this height, over material whose top is at Z 0 unless said.
struct Down : Scene {
  explicit Down(double z, double material_z = 0) {
    rapid({50, 50, 5});
    ends(rapid({50, 50, z}), material_z);
  }
  void ends(const Motion& m, double material_z) {
    cuts(0, 0, 0);
    programRun().cuts[lastIndex()].ends_above_mm = static_cast<float>(m.end.z - material_z);
  }
};

TEST(RapidToSurface, down_to_the_very_top_of_the_stock) {
  Down s(0);
  const auto findings = s.findings(rapid_to_surface_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].place.line, 2u);
  EXPECT_EQ(findings[0].message, "rapid plunges down to the very top of the stock");
  EXPECT_EQ(findings[0].help, "End this rapid at Z 3 mm, and go down from there at the plunge feed.");
}

// "G28 Z0" under G90: down to Z0 first, then home.
TEST(RapidToSurface, a_way_home_by_way_of_the_top_is_told_as_one) {
  Down s(0);
  Motion& home = s.rapid({50, 50, 100});
  home.line = 2;
  home.flags |= motion_machine_frame | motion_height_unknown;
  const auto findings = s.findings(rapid_to_surface_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message,
            "the way home first goes down by rapid to the place on its line, the top of the stock");
  EXPECT_EQ(findings[0].help, "Write G91 G28 Z0 here and G90 on the next line: then it only goes up.");
}

TEST(RapidToSurface, a_tenth_of_a_millimetre_is_enough_and_less_is_not) {
  EXPECT_TRUE(Down(0.1).findings(rapid_to_surface_rule).empty());
  const auto findings = Down(0.09).findings(rapid_to_surface_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message, "rapid plunges down to 0.09 mm above the stock");
}

TEST(RapidToSurface, back_down_to_the_floor_of_the_pass_before_is_known_ground) {
  EXPECT_TRUE(Down(-3, -3).findings(rapid_to_surface_rule).empty());
}

TEST(RapidToSurface, where_no_material_is_near_and_at_a_feed_it_does_not_matter) {
  EXPECT_TRUE(Down(0, -std::numeric_limits<double>::infinity()).findings(rapid_to_surface_rule).empty());
  Down s(2);
  s.ends(s.feed({50, 50, 0}), 0);
  EXPECT_TRUE(s.findings(rapid_to_surface_rule).empty());
}

TEST(RapidToSurface, a_cycle_is_to_raise_its_r) {
  Down s(0);
  s.last().flags = motion_in_cycle;
  EXPECT_EQ(s.findings(rapid_to_surface_rule).at(0).help, "Raise this cycle's R to 3 mm.");
}

TEST(RapidToSurface, one_that_cuts_is_another_rules) {
  Down s(0);
  s.cuts(1, 1);
  EXPECT_TRUE(s.findings(rapid_to_surface_rule).empty());
  EXPECT_EQ(s.findings(rapid_in_stock_rule).size(), 1u);
}

TEST(RapidToSurface, a_program_in_increments_is_told_the_increments) {
  Down s(0);
  s.program().modal.ever_incremental = true;
  EXPECT_EQ(s.findings(rapid_to_surface_rule).at(0).help,
            "End this rapid at Z 3 mm, and go down from there at the plunge feed. In increments (G91), write G0 Z-2, "
            "then G1 Z-3 at that feed.");
}

}  // namespace
}  // namespace provecut
