#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

void outline(Scene& s, double width, double depth, double z) {
  s.rapid({1, 1, 2});
  s.feed({1, 1, z});
  s.feed({1 + width, 1, z});
  s.feed({1 + width, 1 + depth, z});
}

TEST(UnitsDoubt, inch_numbers_read_as_millimetres_are_a_speck_on_the_stock) {
  Scene s;  // 200 x 100 stock
  s.program().modal = {};
  s.feed_mm_min = 60;
  outline(s, 7, 3, -0.25);  // 177.8 x 76.2 mm, if in inches
  const auto findings = s.findings(units_doubt_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 7);
  EXPECT_EQ(findings[0].message,
            "wrong units? Read in mm, the cut spans 7 × 3 mm. Read in inches, it spans 177.8 × 76.2 mm and fits the "
            "200 × 100 mm stock");
}

TEST(UnitsDoubt, the_same_with_g21_written_is_doubted_while_it_is_hardly_larger_than_the_tool) {
  Scene s;
  s.feed_mm_min = 60;
  outline(s, 7, 3, -0.25);
  EXPECT_EQ(s.findings(units_doubt_rule).size(), 1u);
  s.tool().diameter_mm = 1;  // seven tools across: small work with a small tool
  EXPECT_TRUE(s.findings(units_doubt_rule).empty());
}

TEST(UnitsDoubt, the_unit_that_the_program_sets_is_to_be_changed_and_one_that_it_does_not_set_added) {
  Scene s;
  s.feed_mm_min = 60;
  outline(s, 7, 3, -0.25);
  EXPECT_EQ(s.findings(units_doubt_rule).at(0).help,
            "If the program is in inches, change G21 to G20. Otherwise correct the stock's size in the job file.");
  s.program().modal.units_set = false;
  EXPECT_EQ(s.findings(units_doubt_rule).at(0).help,
            "If the program is in inches, add G20 at its top. Otherwise correct the stock's size in the job file.");
}

TEST(UnitsDoubt, spans_are_shown_to_the_hundredth) {
  Scene s;
  s.feed_mm_min = 60;
  outline(s, 5.85, 3.35, -0.25);
  EXPECT_EQ(s.findings(units_doubt_rule).at(0).message,
            "wrong units? Read in mm, the cut spans 5.85 × 3.35 mm. Read in inches, it spans 148.59 × 85.09 mm and "
            "fits the 200 × 100 mm stock");
}

TEST(UnitsDoubt, a_small_metric_engraving_at_a_metric_feed_is_fine) {
  Scene s;
  s.feed_mm_min = 800;
  outline(s, 7, 3, -0.25);
  EXPECT_TRUE(s.findings(units_doubt_rule).empty());
}

TEST(UnitsDoubt, millimetre_numbers_read_as_inches_run_far_beyond_the_stock) {
  Scene s;
  s.program().modal.ever_inch = true;
  s.program().modal.ever_mm = false;
  outline(s, 150 * 25.4, 80 * 25.4, -3 * 25.4);
  const auto findings = s.findings(units_doubt_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_NEAR(*findings[0].amount, 3810, 1e-9);
}

TEST(UnitsDoubt, a_metric_program_on_a_stock_of_its_size_is_fine) {
  Scene s;
  outline(s, 150, 80, -3);
  EXPECT_TRUE(s.findings(units_doubt_rule).empty());
}

TEST(UnitsDoubt, a_job_that_mixes_inch_and_metric_programs_properly_is_fine) {
  Scene s;
  outline(s, 150, 80, -3);
  s.addProgram("20-inch.nc");
  s.program(1).modal.ever_inch = true;
  s.program(1).modal.ever_mm = false;
  outline(s, 120, 60, -3);
  EXPECT_TRUE(s.findings(units_doubt_rule).empty());
}

TEST(UnitsDoubt, a_program_without_a_unit_beside_one_in_inches_is_doubted) {
  Scene s;
  s.program().modal.ever_inch = true;
  s.program().modal.ever_mm = false;
  outline(s, 150, 80, -3);
  s.addProgram("20-cut.nc");
  s.program(1).modal = {};
  outline(s, 120, 60, -3);
  const auto findings = s.findings(units_doubt_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].program, "20-cut.nc");
  ASSERT_EQ(findings[0].related.size(), 1u);
  EXPECT_EQ(findings[0].related[0].file, "10-cut.nc");
}

}  // namespace
}  // namespace provecut
