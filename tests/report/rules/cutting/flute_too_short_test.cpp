#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(FluteTooShort, a_shank_in_the_wood_is_named_and_is_no_nut) {
  Scene s;
  s.feed({50, 50, -15});
  BodyInStock b;
  b.move = s.lastIndex();
  b.part = ToolPart::shank;
  b.depth_mm = 3;
  b.at = {50, 50, -15};
  s.programRun().bodies_in_stock.push_back(b);
  const auto findings = s.findings(flute_too_short_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::stop);
  EXPECT_EQ(findings[0].subject, "6 mm flat");
  EXPECT_DOUBLE_EQ(*findings[0].amount, 3);
  EXPECT_TRUE(s.findings(nut_hit_rule).empty());
}

// A 6 mm flat cutter; the last move's shank is this deep in the wood.
struct Rubs : Scene {
  explicit Rubs(double depth_mm) {
    feed({50, 50, -22});
    BodyInStock b;
    b.move = lastIndex();
    b.part = ToolPart::shank;
    b.depth_mm = depth_mm;
    programRun().bodies_in_stock.push_back(b);
  }
};

TEST(FluteTooShort, half_a_millimetre_of_a_shank_as_wide_as_the_cutter_is_not_yet_a_stop) {
  EXPECT_TRUE(Rubs(0.5).findings(flute_too_short_rule).empty());
  EXPECT_EQ(Rubs(0.51).findings(flute_too_short_rule).size(), 1u);
  Rubs wide(0.1);
  wide.tool().shank_diameter_mm = 8;
  EXPECT_EQ(wide.findings(flute_too_short_rule).size(), 1u);
}

TEST(FluteTooShort, a_neck_that_is_thin_already_is_not_advised) {
  Rubs s(16.5);
  EXPECT_EQ(
      s.findings(flute_too_short_rule).at(0).help,
      "Use a bit with at least 38.5 mm of flutes. Or use one with a neck thinner than the cutter, and cut in passes.");
  s.tool().shank_diameter_mm = 5;
  const Finding f = s.findings(flute_too_short_rule).at(0);
  EXPECT_EQ(f.level, Level::stop);
  EXPECT_EQ(f.message, "the neck of 6 mm flat rubs: material stands 16.5 mm above its flutes");
  EXPECT_EQ(f.help,
            "Clear what stands above its flutes with another bit first. Or use a bit with at least 38.5 mm of flutes.");
}

// Z -15 of 18 mm: 6 mm less. 22 mm of flutes and 27 mm more were eight diameters and a bit: there is no such bit.
TEST(FluteTooShort, the_depth_that_the_flutes_reach_is_named_and_no_bit_that_is_not_sold) {
  Rubs s(6);
  s.last().end.z = -15;
  EXPECT_EQ(s.findings(flute_too_short_rule).at(0).help,
            "Cut no deeper than Z -9 mm with it. Or use a bit with at least 28 mm of flutes. Or use one with a neck "
            "thinner than the cutter, and cut in passes.");
  EXPECT_EQ(Rubs(27).findings(flute_too_short_rule).at(0).help,
            "Use a bit with a neck thinner than the cutter, and cut in passes.");
}

TEST(FluteTooShort, what_it_pulls_through_on_the_way_up_follows_from_it) {
  Rubs s(16.5);
  s.tool().shank_diameter_mm = 5;
  s.rapid({50, 50, 5});
  s.cuts(16, 16);
  s.programRun().cuts[s.lastIndex()].broken_mm = 16;
  EXPECT_TRUE(s.findings(undercut_lift_rule).empty());
  EXPECT_TRUE(s.findings(rapid_in_stock_rule).empty());
  s.programRun().bodies_in_stock.clear();
  EXPECT_EQ(s.findings(undercut_lift_rule).size(), 1u);
  EXPECT_TRUE(s.findings(rapid_in_stock_rule).empty()) << "undercut-lift says it";
}

TEST(FluteTooShort, a_rapid_across_the_stock_does_not_follow_from_it) {
  Rubs s(16.5);
  s.tool().shank_diameter_mm = 5;
  s.rapid({90, 50, -22});
  s.cuts(22, 22);
  s.programRun().cuts[s.lastIndex()].broken_mm = 16;
  EXPECT_EQ(s.findings(rapid_in_stock_rule).size(), 1u);
}

TEST(FluteTooShort, nothing_is_said_where_only_the_nut_is_in_the_wood) {
  Scene s;
  s.feed({50, 50, -15});
  BodyInStock b;
  b.move = s.lastIndex();
  b.part = ToolPart::collet_nut;
  b.depth_mm = 3;
  s.programRun().bodies_in_stock.push_back(b);
  EXPECT_TRUE(s.findings(flute_too_short_rule).empty());
}

}  // namespace
}  // namespace provecut
