#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

struct SixDeep : Scene {
  SixDeep() { tool().max_stepdown_mm = 6; }
};

TEST(PassTooDeep, the_worst_move_of_a_tool_is_named) {
  SixDeep s;
  s.feed({20, 20, -8});
  s.cuts(8, 8);
  s.feed({80, 20, -8});
  s.cuts(8.25, 8);
  const auto findings = s.findings(pass_too_deep_rule);
  ASSERT_EQ(findings.size(), 1u);
  const Finding& f = findings[0];
  EXPECT_EQ(f.level, Level::look);
  EXPECT_EQ(f.subject, "6 mm flat");
  EXPECT_EQ(f.moves, 2u);
  EXPECT_DOUBLE_EQ(*f.amount, 8.25);
  EXPECT_EQ(f.message, "6 mm flat cuts up to 8.25 mm deep in one pass (maximum 6 mm)");
  EXPECT_EQ(f.help, "Take this depth in at least 2 passes, none deeper than 6 mm.");
}

TEST(PassTooDeep, max_stepdown_itself_is_allowed) {
  SixDeep s;
  s.feed({80, 20, -6});
  s.cuts(6.0005, 6);  // single precision
  EXPECT_TRUE(s.findings(pass_too_deep_rule).empty());
}

TEST(PassTooDeep, two_micrometres_more_are_not) {
  SixDeep s;
  s.arc({80, 20, -6}, {50, 20}, Plane::xy, true);
  s.cuts(6.002, 6);
  const auto findings = s.findings(pass_too_deep_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message, "6 mm flat cuts 6.002 mm deep in one pass (maximum 6 mm)");
}

TEST(PassTooDeep, a_rapid_in_wood_is_another_matter_and_a_tool_without_a_limit_has_none) {
  SixDeep s;
  s.rapid({80, 20, -12});
  s.cuts(12, 12);
  EXPECT_TRUE(s.findings(pass_too_deep_rule).empty());
  s.tool().max_stepdown_mm.reset();
  s.feed({20, 20, -12});
  s.cuts(12, 12);
  EXPECT_TRUE(s.findings(pass_too_deep_rule).empty());
}

TEST(PassTooDeep, deep_below_the_top_in_what_is_already_open_is_no_deep_pass) {
  SixDeep s;
  s.feed({20, 20, -12});
  s.cuts(2, 2);
  EXPECT_TRUE(s.findings(pass_too_deep_rule).empty());
}

TEST(PassTooDeep, each_tool_is_judged_by_its_own_limit) {
  SixDeep s;
  Tool second = s.tool();
  second.number = 2;
  second.name = "3 mm ball";
  second.max_stepdown_mm = 3;
  s.job().tools.push_back(second);
  s.feed({20, 20, -5});
  s.cuts(5, 5);
  s.feed({80, 20, -5});
  s.cuts(5, 5);
  s.last().tool = 2;
  const auto findings = s.findings(pass_too_deep_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].subject, "3 mm ball");
}

// The second pass of a 6 mm ball, 2 lower than the first, touches the flanks 5 up.
TEST(PassTooDeep, a_ball_that_follows_its_groove_takes_the_step_and_no_more) {
  Scene s;
  s.tool().shape = ToolShape::ball;
  s.tool().max_stepdown_mm = 3;
  s.feed({80, 20, -4});
  s.cuts(5, 2);
  EXPECT_TRUE(s.findings(pass_too_deep_rule).empty());
  s.feed({20, 20, -7.5});
  s.cuts(6.5, 3.5);
  EXPECT_DOUBLE_EQ(*s.findings(pass_too_deep_rule).at(0).amount, 3.5);
}

TEST(PassTooDeep, a_cycle_is_to_peck) {
  Scene s;
  s.tool().max_stepdown_mm = 3;
  s.feed({80, 20, -8}).flags |= motion_in_cycle;
  s.cuts(8, 8);
  EXPECT_EQ(s.findings(pass_too_deep_rule).at(0).help, "Drill in pecks (G83) of at most 3 mm.");
}

// A pass 10 mm deep with a bit that may go 6 mm down in a full slot.
struct TenDeep : SixDeep {
  explicit TenDeep(double width_mm, double way_mm = 60) { on(width_mm, way_mm); }
  void on(double width_mm, double way_mm) {
    feed({20 + way_mm, 20, -10});
    cuts(10, 10);
    MoveCut& cut = programRun().cuts.back();
    cut.radial_depth_mm = cut.max_radial_depth_mm = static_cast<float>(width_mm);
    cut.engaged_mm = static_cast<float>(way_mm);
  }
  bool isTooDeep() { return !findings(pass_too_deep_rule).empty(); }
};

TEST(PassTooDeep, a_thin_slice_off_a_wall_may_be_deeper_than_a_full_slot) {
  EXPECT_FALSE(TenDeep(0.5).isTooDeep());
  EXPECT_FALSE(TenDeep(1.5).isTooDeep());  // a quarter of 6 mm: twice as deep
  EXPECT_TRUE(TenDeep(1.6).isTooDeep());
  EXPECT_TRUE(TenDeep(6).isTooDeep());
  TenDeep short_flutes(0.5);
  short_flutes.tool().flute_length_mm = 9;
  EXPECT_TRUE(short_flutes.isTooDeep()) << "never deeper than its flutes are long";
}

// From one round of a trochoid to the next.
TEST(PassTooDeep, a_short_step_into_a_wall_is_a_thin_slice_and_many_of_them_are_a_slot) {
  TenDeep s(5, 0.5);
  EXPECT_FALSE(s.isTooDeep());
  s.on(0.5, 8);
  s.on(5, 0.5);
  EXPECT_FALSE(s.isTooDeep());
  for (int k = 0; k < 4; ++k) s.on(6, 0.5);
  EXPECT_TRUE(s.isTooDeep());
}

TEST(PassTooDeep, a_stretch_of_full_slot_in_a_long_move_counts) {
  TenDeep s(0.5);
  s.programRun().cuts.back().max_radial_depth_mm = 6;
  EXPECT_TRUE(s.isTooDeep());
}

}  // namespace
}  // namespace provecut
