#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

std::vector<Finding> standingOn(std::vector<double> thicknesses) {
  Scene s;
  s.job().limits.min_floor_mm = 3;
  const int index = s.addHoldDown(screw("screw SW", {12, 12}, 9, 4.5));
  s.feed({30, 12, -3});
  for (std::size_t i = 1; i < thicknesses.size(); ++i) s.addProgram("20-cut.nc");
  for (std::size_t i = 0; i < thicknesses.size(); ++i)
    s.run().screw_seats.push_back({static_cast<int>(i), index, thicknesses[i], 18, 0});
  return s.findings(screw_in_pocket_rule);
}

TEST(ScrewInPocket, the_floor_wanted_is_enough_and_a_hundredth_less_is_not) {
  EXPECT_TRUE(standingOn({3}).empty());
  const auto findings = standingOn({2.99});
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 2.99);
  EXPECT_EQ(findings[0].message,
            "screw SW has only 2.99 mm under part of its head (minimum 3 mm) when 10-cut.nc starts");
}

TEST(ScrewInPocket, it_is_said_once_at_the_first_program) {
  const auto findings = standingOn({18, 2, 1});
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 2);
}

TEST(ScrewInPocket, over_a_hole_there_is_nothing) {
  ASSERT_EQ(standingOn({0}).size(), 1u);
  EXPECT_EQ(standingOn({0})[0].message,
            "screw SW has nothing under part of its head (minimum 3 mm) when 10-cut.nc starts");
}

}  // namespace
}  // namespace provecut
