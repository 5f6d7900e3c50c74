#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// A screw so long in the stock of 18 mm on a spoilboard of 12 mm, its head so high above the underside of the stock.
std::vector<Finding> screwOf(double length_mm, double rests_at_mm = 18, double board_mm = 12, double lift_mm = 0,
                             double tolerance_mm = 0) {
  Scene s;
  s.job().stock.thickness_tolerance_mm = tolerance_mm;
  s.job().spoilboard.thickness_mm = board_mm;
  s.setup().lift_mm = lift_mm;
  HoldDown h = screw("screw SW", {30, 30}, 9, 4.5);
  h.length_mm = length_mm;
  const int index = s.addHoldDown(h);
  s.feed({60, 40, -3});
  s.run().screw_seats.push_back({0, index, 5, rests_at_mm, 0});
  return s.findings(screw_too_long_rule);
}

TEST(ScrewTooLong, what_goes_beyond_stock_and_board_is_in_the_bed) {
  EXPECT_TRUE(screwOf(30).empty());
  const auto findings = screwOf(30.001);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].subject, "screw SW");
  EXPECT_NEAR(*findings[0].amount, 0.001, 1e-9);
  EXPECT_EQ(screwOf(34).at(0).message, "screw SW goes through the spoilboard and 4 mm into the bed");
}

TEST(ScrewTooLong, a_head_in_a_pocket_lets_the_tip_down_and_a_lifted_stock_keeps_it_up) {
  EXPECT_NEAR(*screwOf(30, 10).at(0).amount, 8, 1e-9);
  EXPECT_TRUE(screwOf(34, 18, 12, 4).empty());
  EXPECT_EQ(screwOf(34.1, 18, 12, 4).size(), 1u);
}

// 34 mm through 8 mm of pocket floor and a 12 mm board: 14 mm too long. At 20 mm it would bite 2 mm at full thickness.
TEST(ScrewTooLong, no_length_is_advised_that_would_be_too_short_elsewhere) {
  EXPECT_EQ(screwOf(34).at(0).help, "Use a screw at least 4 mm shorter.");
  EXPECT_EQ(screwOf(34, 8)[0].help,
            "No length suits both this pocket and full thickness: move the screw out of the pocket.");
}

TEST(ScrewTooLong, stock_that_may_be_thinner_takes_a_screw_shorter_by_that) {
  EXPECT_EQ(screwOf(34, 18, 12, 0, 0.3).at(0).help, "Use a screw at least 4.3 mm shorter.");
}

TEST(ScrewTooLong, screws_of_one_length_are_one_finding_and_one_in_a_pocket_is_its_own) {
  Scene s;
  s.job().spoilboard.thickness_mm = 12;
  s.feed({60, 40, -3});
  for (const auto& [name, rests_at_mm] : {std::pair{"screw A", 18.0}, {"screw B", 12.0}, {"screw C", 18.0}}) {
    HoldDown h = screw(name, {30, 30}, 9, 4.5);
    h.length_mm = 34;
    s.run().screw_seats.push_back({0, s.addHoldDown(h), 5, rests_at_mm, 0});
  }
  const auto findings = s.findings(screw_too_long_rule);
  ASSERT_EQ(findings.size(), 2u);
  EXPECT_EQ(findings[0].message, "screw A and screw C go through the spoilboard and 4 mm into the bed each");
  EXPECT_EQ(findings[0].help, "Use screws at least 4 mm shorter.");
  EXPECT_EQ(findings[1].message, "screw B goes through the spoilboard and 10 mm into the bed");
}

TEST(ScrewTooLong, without_a_length_or_a_board_nothing_is_judged) {
  EXPECT_TRUE(screwOf(0).empty());
  EXPECT_TRUE(screwOf(90, 18, 0).empty());
}

}  // namespace
}  // namespace provecut
