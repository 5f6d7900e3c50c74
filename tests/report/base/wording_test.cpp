#include "report/base/wording.h"

#include <gtest/gtest.h>

namespace provecut {
namespace {

TEST(Wording, numbers_have_fixed_decimals_and_no_negative_zero) {
  const Job job;
  EXPECT_EQ(quantityText(job, Quantity::length, 2.14), "2.1 mm");
  EXPECT_EQ(quantityText(job, Quantity::length, 0), "0.0 mm");
  EXPECT_EQ(quantityText(job, Quantity::length, 0.004), "0.004 mm");
  EXPECT_EQ(quantityText(job, Quantity::feed, 1200), "1200 mm/min");
  EXPECT_EQ(fixedText(-0.04, 1), "0.0");
}

TEST(Wording, advice_is_rounded_to_the_safe_side) {
  const Job job;
  EXPECT_EQ(atLeastText(job, Quantity::length, 3.31), "3.4 mm");
  EXPECT_EQ(atLeastText(job, Quantity::length, 3.3), "3.3 mm");
  EXPECT_EQ(atMostText(job, Quantity::length, 3.39), "3.3 mm");
  EXPECT_EQ(atMostText(job, Quantity::length, 3.4), "3.4 mm");
  EXPECT_EQ(zAtLeastText(job, -18.35), "Z -18.35");
  EXPECT_EQ(zAtLeastText(job, 7.50001), "Z 7.501");
}

TEST(Wording, two_values_that_differ_are_shown_so_that_they_differ) {
  const Job job;
  const Compared near = comparedText(job, Quantity::length, 2.96, 3);
  EXPECT_EQ(near.met, "2.96 mm");
  EXPECT_EQ(near.allowed, "3.00 mm");
  const Compared far = comparedText(job, Quantity::length, 1, 3);
  EXPECT_EQ(far.met, "1.0 mm");
  EXPECT_EQ(far.allowed, "3.0 mm");
}

TEST(Wording, a_job_in_inches_reads_in_inches) {
  Job job;
  job.inches = true;
  EXPECT_EQ(quantityText(job, Quantity::length, 3.175), "0.125 in");
  EXPECT_EQ(quantityText(job, Quantity::feed, 2540), "100.0 in/min");
  EXPECT_EQ(atLeastText(job, Quantity::length, 3.17501), "0.126 in");
  EXPECT_EQ(zText(job, 25.4), "Z 1.000");
}

TEST(Wording, directions_are_those_of_who_stands_before_the_machine) {
  EXPECT_EQ(directionText({-1, 0}), "to the left");
  EXPECT_EQ(directionText({1, 0}), "to the right");
  EXPECT_EQ(directionText({0, -1}), "to the front");
  EXPECT_EQ(directionText({0, 1}), "to the back");
}

}  // namespace
}  // namespace provecut
