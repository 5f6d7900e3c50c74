// Two sides of one board become two setups.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/report/draft/survey_of.h"

namespace provecut {
namespace draft_setups_test {

using testing::ElementsAre;
using testing::IsEmpty;
using testing::SizeIs;

const std::string pocket = "G21 G90 T1 M6\nG0 X10 Y10 Z5\nG1 Z-4 F300\nX90\nY50\nX10\nG0 Z5\n";
const std::string from_below = "G21 G90 T1 M6\nG0 X10 Y10 Z30\nG1 Z14 F300\nX90\nY50\nX10\nG0 Z30\n";

std::string holes(const std::vector<std::pair<double, double>>& at) {
  std::string text = "G21 G90 T2 M6\nG0 Z5\n";
  for (const auto& [x, y] : at)
    text += "G0 X" + std::to_string(x) + " Y" + std::to_string(y) + "\nG1 Z-6 F100\nG0 Z5\n";
  return text;
}

TEST(DraftSetups, are_two_where_names_speak_of_front_and_back) {
  const auto setups = surveyOf({{"10-Top.nc", pocket}, {"20_back.nc", pocket}, {"30-top-outline.nc", pocket}}).setups;
  ASSERT_THAT(setups, SizeIs(2));
  EXPECT_THAT(setups[0].programs, ElementsAre(0, 2));
  EXPECT_THAT(setups[1].programs, ElementsAre(1));
  EXPECT_EQ(setups[1].name, "back");
  EXPECT_NE(setups[1].flip, Flip::none);
}

TEST(DraftSetups, are_two_for_side_1_and_side_2) {
  EXPECT_THAT(surveyOf({{"panel side1.nc", pocket}, {"panel side2.nc", pocket}}).setups, SizeIs(2));
}

TEST(DraftSetups, are_two_where_some_programs_have_zero_on_the_underside) {
  const auto setups = surveyOf({{"a.nc", pocket}, {"b.nc", from_below}}).setups;
  ASSERT_THAT(setups, SizeIs(2));
  EXPECT_FALSE(setups[0].zero_on_bottom);
  EXPECT_TRUE(setups[1].zero_on_bottom);
  EXPECT_THAT(setups[1].programs, ElementsAre(1));
}

// Pegs drilled from both faces: the stock is flipped about the axis that mirrors them.
TEST(DraftSetups, are_two_where_holes_are_mirrored) {
  const auto front = holes({{10, 10}, {80, 12}, {30, 55}});
  const auto left_right = surveyOf({{"a.nc", front}, {"b.nc", holes({{90, 10}, {20, 12}, {70, 55}})}}).setups;
  ASSERT_THAT(left_right, SizeIs(2));
  EXPECT_EQ(left_right[1].flip, Flip::left_right);
  const auto front_back = surveyOf({{"a.nc", front}, {"b.nc", holes({{10, 50}, {80, 48}, {30, 5}})}}).setups;
  ASSERT_THAT(front_back, SizeIs(2));
  EXPECT_EQ(front_back[1].flip, Flip::front_back);
}

TEST(DraftSetups, are_one_where_nothing_speaks_of_another_side) {
  EXPECT_THAT(surveyOf({{"10-pocket.nc", pocket}, {"20-outline.nc", pocket}}).setups, SizeIs(1));
  // The same holes again, deeper, and holes that look alike from both sides, tell nothing.
  const auto again = holes({{10, 10}, {80, 12}, {30, 55}}), square = holes({{10, 10}, {80, 10}, {10, 60}, {80, 60}});
  EXPECT_THAT(surveyOf({{"a.nc", again}, {"b.nc", again}}).setups, SizeIs(1));
  EXPECT_THAT(surveyOf({{"a.nc", square}, {"b.nc", square}}).setups, SizeIs(1));
  // A word in one name alone is the part's: a back plate has no other side here.
  EXPECT_THAT(surveyOf({{"back-plate.nc", pocket}, {"lid.nc", pocket}}).setups, SizeIs(1));
  EXPECT_THAT(surveyOf({{"backplate.nc", pocket}, {"top.nc", pocket}}).setups, SizeIs(1));
  EXPECT_THAT(surveyOf(std::vector<std::pair<std::string, std::string>>{}).setups, IsEmpty());
}

}  // namespace draft_setups_test
}  // namespace provecut
