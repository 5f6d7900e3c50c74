#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// Two programs over the same rectangle: the first `finish_mm` deep in one pass at `width_mm`, the second in steps of 3.
struct NamedOrder : Scene {
  NamedOrder(std::string first, std::string second, double finish_mm = 12, double width_mm = 6, double shift_mm = 0) {
    setup().programs[0].file = std::move(first);
    around(0, -finish_mm);
    for (MoveCut& c : programRun(0).cuts) met(c, finish_mm, width_mm);
    addProgram(std::move(second));
    around(shift_mm, -3);
    for (MoveCut& c : programRun(1).cuts) met(c, 3, 6);
  }
  void around(double x, double z) {
    rapid({20 + x, 10, 20});
    for (const Vec2 p : {Vec2{20 + x, 10}, Vec2{80 + x, 10}, Vec2{80 + x, 60}, Vec2{20 + x, 60}, Vec2{20 + x, 10}}) {
      feed({p.x, p.y, z});
      cuts(-z, -z);
    }
  }
  static void met(MoveCut& c, double depth_mm, double width_mm) {
    c.axial_depth_mm = static_cast<float>(depth_mm);
    c.radial_depth_mm = static_cast<float>(width_mm);
    c.engaged_mm = 50;
  }
  std::vector<Finding> check() { return findings(finish_first_rule); }
};

TEST(FinishFirst, a_finishing_program_that_meets_the_full_stock_before_its_roughing_is_told) {
  const auto findings = NamedOrder("10-pocket-finish.nc", "20-pocket-rough.nc").check();
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 12);
  EXPECT_EQ(findings[0].message,
            "finishing meets the full stock, up to 12 mm deep in one pass; the roughing program 20-pocket-rough.nc "
            "runs after it");
  EXPECT_EQ(findings[0].help, "Run 20-pocket-rough.nc before this program.");
}

TEST(FinishFirst, the_right_order_and_other_names_are_not_told) {
  EXPECT_TRUE(NamedOrder("10-pocket-rough.nc", "20-pocket-finish.nc").check().empty());
  EXPECT_TRUE(NamedOrder("10-pocket.nc", "20-outline.nc").check().empty());
  EXPECT_TRUE(NamedOrder("10-rough-and-finish.nc", "20-rough.nc").check().empty());
}

TEST(FinishFirst, the_first_comments_name_a_program_too) {
  NamedOrder s("10.nc", "20.nc");
  EXPECT_TRUE(s.check().empty());
  s.text(0) = "(Pocket, FINISH pass)\nG0 X10\n";
  s.text(1) = "(Pocket, roughing)\nG0 X10\n";
  EXPECT_EQ(s.check().size(), 1u);
}

TEST(FinishFirst, a_light_pass_that_a_roughing_elsewhere_follows_is_not_told) {
  EXPECT_TRUE(NamedOrder("10-finish.nc", "20-rough.nc", 4.5, 1).check().empty());
  EXPECT_EQ(NamedOrder("10-finish.nc", "20-rough.nc", 4.6, 1).check().size(), 1u);  // over 1.5 times as deep
  EXPECT_EQ(NamedOrder("10-finish.nc", "20-rough.nc", 3, 4.8).check().size(), 1u);  // at its full width
  EXPECT_TRUE(NamedOrder("10-finish.nc", "20-rough.nc", 3, 4.7).check().empty());
  EXPECT_TRUE(
      NamedOrder("10-finish.nc", "20-rough.nc", 12, 6, 31).check().empty());  // less than half over the same place
  EXPECT_EQ(NamedOrder("10-finish.nc", "20-rough.nc", 12, 6, 29).check().size(), 1u);
}

// Its finishing has taken its cuts: the order is the whole story.
TEST(FinishFirst, the_air_that_a_late_roughing_cuts_is_not_told_again_and_that_of_another_program_is) {
  const auto inAir = [](NamedOrder& s) {
    for (MoveCut& c : s.programRun(1).cuts) c.removed_mm3 = 0;
    s.feed({20, 60, -3});
    s.cuts(3, 3);
    return !s.findings(air_cut_rule).empty();
  };
  NamedOrder late("10-finish.nc", "20-rough.nc"), other("10-pocket.nc", "20-rough.nc");
  EXPECT_FALSE(inAir(late));
  EXPECT_TRUE(inAir(other));
}

}  // namespace
}  // namespace provecut
