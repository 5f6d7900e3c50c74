#include "report/base/wording.h"

#include <gtest/gtest.h>

namespace provecut {
namespace {

TEST(Wording, measured_numbers_have_no_idle_zeros_and_no_negative_zero) {
  const Job job;
  EXPECT_EQ(quantityText(job, Quantity::length, 2.14), "2.14 mm");
  EXPECT_EQ(quantityText(job, Quantity::length, 0), "0 mm");
  EXPECT_EQ(quantityText(job, Quantity::length, 20.95), "20.95 mm");
  EXPECT_EQ(quantityText(job, Quantity::time_s, 4), "4 s");
  EXPECT_EQ(quantityText(job, Quantity::length, 0.004), "0.004 mm");
  EXPECT_EQ(quantityText(job, Quantity::length, 4e-7), "0 mm");
  EXPECT_EQ(quantityText(job, Quantity::area, 23.7), "24 mm²");
}

TEST(Wording, feeds_and_speeds_show_their_thousands) {
  const Job job;
  EXPECT_EQ(quantityText(job, Quantity::feed, 950), "950 mm/min");
  EXPECT_EQ(quantityText(job, Quantity::feed, 1200), "1,200 mm/min");
  EXPECT_EQ(quantityText(job, Quantity::speed_rpm, 18000), "18,000 rpm");
  EXPECT_EQ(quantityText(job, Quantity::power_w, 13031), "13,031 W");
  EXPECT_EQ(quantityText(job, Quantity::speed_rpm, 1234567), "1,234,567 rpm");
}

TEST(Wording, advice_is_rounded_to_the_safe_side_and_has_no_idle_zeros) {
  const Job job;
  EXPECT_EQ(atLeastText(job, Quantity::length, 3.31), "3.4 mm");
  EXPECT_EQ(atLeastText(job, Quantity::length, 3.3), "3.3 mm");
  EXPECT_EQ(atLeastText(job, Quantity::length, 7.95), "8 mm");
  EXPECT_EQ(atMostText(job, Quantity::length, 3.39), "3.3 mm");
  EXPECT_EQ(atMostText(job, Quantity::length, 3.4), "3.4 mm");
  EXPECT_EQ(atMostText(job, Quantity::length, 0.04), "0.04 mm");
  EXPECT_EQ(zText(job, 3), "Z 3 mm");
  EXPECT_EQ(zAtLeastText(job, -18.35), "Z -18.35 mm");
  EXPECT_EQ(zAtLeastText(job, 7.50001), "Z 7.501 mm");
}

TEST(Wording, a_value_and_its_limit_are_shown_so_that_they_differ) {
  const Job job;
  const Compared near = comparedText(job, Quantity::length, 2.96, 3);
  EXPECT_EQ(near.actual, "2.96 mm");
  EXPECT_EQ(near.limit, "3 mm");
  const Compared far = comparedText(job, Quantity::length, 1, 3);
  EXPECT_EQ(far.actual, "1 mm");
  EXPECT_EQ(far.limit, "3 mm");
  const Compared area = comparedText(job, Quantity::area, 14.6, 15);
  EXPECT_EQ(area.actual, "14.6 mm²");
  EXPECT_EQ(area.limit, "15 mm²");
}

TEST(Wording, a_limit_is_shown_as_it_was_given) {
  const Job job;
  const Compared text = comparedText(job, Quantity::length, 8.7, 6.35);
  EXPECT_EQ(text.actual, "8.7 mm");
  EXPECT_EQ(text.limit, "6.35 mm");
  // 1/16 in
  EXPECT_EQ(comparedText(job, Quantity::length, 2, 1.5875).limit, "1.5875 mm");
}

TEST(Wording, a_part_has_the_thickness_of_its_stock) {
  Job job;
  EXPECT_EQ(sizeText(job, Vec3{44.02, 43.98, 19.05}), "44 × 44 × 19.05 mm");
  EXPECT_EQ(sizeText(job, Vec3{44.02, 43.98, 3.175}), "44 × 44 × 3.175 mm");
  EXPECT_EQ(sizeText(job, Vec2{44.02, 43.98}), "44 × 44 mm");
  job.inches = true;
  EXPECT_EQ(sizeText(job, Vec3{44.02, 43.98, 19.05}), "1.73 × 1.73 × 0.75 in");
}

TEST(Wording, a_job_in_inches_reads_in_inches) {
  Job job;
  job.inches = true;
  EXPECT_EQ(quantityText(job, Quantity::length, 3.175), "0.125 in");
  EXPECT_EQ(quantityText(job, Quantity::feed, 2540), "100 in/min");
  EXPECT_EQ(atMostText(job, Quantity::feed, 94.9 * 25.4), "94 in/min");
  EXPECT_EQ(zAtLeastText(job, 7.5), "Z 0.296 in");
  EXPECT_EQ(quantityText(job, Quantity::area, 15), "0.0233 in²");
  EXPECT_EQ(atLeastText(job, Quantity::length, 3.17501), "0.126 in");
  EXPECT_EQ(zText(job, 25.4), "Z 1 in");
}

TEST(Wording, amounts_have_one_unit_whatever_the_job_is_written_in) {
  EXPECT_EQ(unitOf(Quantity::length), "mm");
  EXPECT_EQ(unitOf(Quantity::area), "mm²");
  EXPECT_EQ(unitOf(Quantity::feed), "mm/min");
  EXPECT_EQ(unitOf(Quantity::speed_rpm), "rpm");
}

TEST(Wording, directions_are_those_of_who_stands_before_the_machine) {
  EXPECT_EQ(directionText({-1, 0}), "to the left");
  EXPECT_EQ(directionText({1, 0}), "to the right");
  EXPECT_EQ(directionText({0, -1}), "to the front");
  EXPECT_EQ(directionText({0, 1}), "to the back");
}

TEST(Wording, a_number_has_its_article) {
  EXPECT_EQ(withArticle("44 × 44 mm"), "a 44 × 44 mm");
  EXPECT_EQ(withArticle("8 × 8 mm"), "an 8 × 8 mm");
  EXPECT_EQ(withArticle("18.5 mm"), "an 18.5 mm");
  EXPECT_EQ(withArticle("11 mm"), "an 11 mm");
  EXPECT_EQ(withArticle("110 mm"), "a 110 mm");
  EXPECT_EQ(withArticle("1.1 mm"), "a 1.1 mm");
}

TEST(Wording, a_clause_becomes_a_sentence) {
  EXPECT_EQ(sentence("move the clamp"), "Move the clamp.");
  EXPECT_EQ(sentence(""), "");
}

}  // namespace
}  // namespace provecut
