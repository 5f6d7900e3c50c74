#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace screw_too_short_test {

// A screw so long in the stock of 18 mm.
std::vector<Finding> screwOf(double length_mm, double shaft_mm = 0, double board_mm = 18, double lift_mm = 0) {
  Scene s;
  s.job().spoilboard.thickness_mm = board_mm;
  s.setup().lift_mm = lift_mm;
  HoldDown h = screw("screw SW", {30, 30}, 9, 4.5);
  h.length_mm = length_mm;
  h.shaft_diameter_mm = shaft_mm;
  const int index = s.addHoldDown(h);
  s.feed({60, 40, -3});
  s.run().screw_seats.push_back({0, index, 18, 18, 0});
  return s.findings(screw_too_short_rule);
}

TEST(ScrewTooShort, ten_millimetres_of_bite_are_enough_for_a_thin_screw) {
  EXPECT_TRUE(screwOf(28).empty());
  const auto findings = screwOf(24);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 6);
  EXPECT_EQ(findings[0].message, "screw SW bites only 6 mm into the spoilboard (minimum 10 mm); it may pull out");
  EXPECT_EQ(findings[0].help, "Use a screw at least 4 mm longer.");
  EXPECT_EQ(screwOf(27.99).size(), 1u);
}

TEST(ScrewTooShort, a_thick_screw_wants_three_of_its_shafts) {
  EXPECT_TRUE(screwOf(33, 5).empty());
  EXPECT_EQ(screwOf(32.9, 5).size(), 1u);
}

TEST(ScrewTooShort, a_thin_board_is_asked_for_no_more_than_it_has) {
  EXPECT_TRUE(screwOf(24, 0, 6).empty());
  EXPECT_EQ(screwOf(23.9, 0, 6).size(), 1u);
}

TEST(ScrewTooShort, one_that_ends_in_the_stock_does_not_reach_the_board) {
  const auto findings = screwOf(16);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(*findings[0].amount, 0);
  EXPECT_EQ(findings[0].message, "screw SW does not reach the spoilboard");
  EXPECT_EQ(findings[0].help, "Use a screw at least 12 mm longer.");
}

TEST(ScrewTooShort, a_lifted_stock_takes_from_the_bite) {
  EXPECT_TRUE(screwOf(32, 0, 18, 4).empty());
  EXPECT_EQ(screwOf(31.9, 0, 18, 4).size(), 1u);
}

// Screws of these lengths in the stock of 18 mm.
std::vector<Finding> screwsOf(const std::vector<double>& lengths_mm) {
  Scene s;
  s.job().spoilboard.thickness_mm = 18;
  s.feed({60, 40, -3});
  for (std::size_t i = 0; i < lengths_mm.size(); ++i) {
    HoldDown h = screw("screw " + std::to_string(i + 1), {30 + 20.0 * static_cast<double>(i), 30}, 9, 4.5);
    h.length_mm = lengths_mm[i];
    s.run().screw_seats.push_back({0, s.addHoldDown(h), 18, 18, 0});
  }
  return s.findings(screw_too_short_rule);
}

TEST(ScrewTooShort, screws_of_one_length_are_one_finding_and_another_length_is_its_own) {
  const auto findings = screwsOf({24, 24, 20, 24, 30});
  ASSERT_EQ(findings.size(), 2u);
  EXPECT_EQ(findings[0].message,
            "screw 1, screw 2 and screw 4 bite only 6 mm into the spoilboard (minimum 10 mm); they may pull out");
  EXPECT_EQ(findings[0].help, "Use screws at least 4 mm longer.");
  EXPECT_EQ(findings[1].message, "screw 3 bites only 2 mm into the spoilboard (minimum 10 mm); it may pull out");
}

TEST(ScrewTooShort, without_a_length_nothing_is_judged) {
  EXPECT_TRUE(screwOf(0).empty());
}

}  // namespace screw_too_short_test
}  // namespace provecut
