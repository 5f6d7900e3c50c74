// Sizes and places: one rounding for one quantity.
#include "report/base/dimension_text.h"

#include <gtest/gtest.h>

#include "report/base/number_text.h"

namespace provecut {
namespace {

TEST(DimensionText, common_inch_sizes_read_right_in_millimetres) {
  const Job job;
  // 1/16, 1/8, 3/16, 1/4, 3/8 and 1/2 in at 25.4 mm to the inch.
  EXPECT_EQ(dimensionText(job, 25.4 / 16), "1.5875");
  EXPECT_EQ(dimensionText(job, 25.4 / 8), "3.175");
  EXPECT_EQ(dimensionText(job, 25.4 * 3 / 16), "4.7625");
  EXPECT_EQ(dimensionText(job, 25.4 / 4), "6.35");
  EXPECT_EQ(dimensionText(job, 25.4 * 3 / 8), "9.525");
  EXPECT_EQ(dimensionText(job, 25.4 / 2), "12.7");
}

TEST(DimensionText, they_read_as_fractions_of_an_inch_do_in_inches) {
  Job job;
  job.inches = true;
  EXPECT_EQ(dimensionWithUnit(job, 25.4 / 16), "0.0625 in");
  EXPECT_EQ(dimensionWithUnit(job, 25.4 / 8), "0.125 in");
  EXPECT_EQ(dimensionWithUnit(job, 19.05), "0.75 in");
  EXPECT_EQ(dimensionText(job, 25.4 * 12), "12");
}

TEST(DimensionText, stock_and_hold_downs_have_no_idle_zeros) {
  const Job job;
  EXPECT_EQ(dimensionsText(job, Vec3{480, 130, 19.05}), "480 × 130 × 19.05 mm");
  EXPECT_EQ(dimensionsText(job, Vec2{480, 3.175}), "480 × 3.175 mm");
  EXPECT_EQ(placeText(job, Vec2{15, 3.175}), "X 15 Y 3.175");
  EXPECT_EQ(dimensionText(job, -0.00001), "0");
}

TEST(DimensionText, a_spot_that_was_worked_out_is_told_to_the_hundredth) {
  Job job;
  EXPECT_EQ(spotText(job, {15.0234, 20}), "X 15.02 Y 20");
  job.inches = true;
  EXPECT_EQ(spotText(job, {25.4, 12.725}), "X 1 Y 0.501");
}

TEST(DimensionText, positions_are_told_as_a_controller_shows_them) {
  Job job;
  EXPECT_EQ(positionText(job, -18.35), "-18.35");
  EXPECT_EQ(positionText(job, 12.34567), "12.346");
  EXPECT_EQ(positionText(job, 3), "3");
  job.inches = true;
  EXPECT_EQ(positionText(job, 25.4 * 0.12344), "0.1234");
}

TEST(NumberText, nothing_is_below_zero_and_thousands_are_told_apart) {
  EXPECT_EQ(fixedText(-0.04, 1), "0.0");
  EXPECT_EQ(withThousands("950"), "950");
  EXPECT_EQ(withThousands("3400"), "3,400");
  EXPECT_EQ(withThousands("-1234.5"), "-1,234.5");
  EXPECT_EQ(withThousands("2000000"), "2,000,000");
  EXPECT_EQ(withThousands("-100"), "-100");
  EXPECT_EQ(rangeText(800, 2400), "800 to 2,400");
  EXPECT_EQ(rangeText(18000, 18000), "18,000");
}

}  // namespace
}  // namespace provecut
