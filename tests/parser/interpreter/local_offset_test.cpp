// G52, and the parameters that a program reads where it stands by. Not in the published standard: common practice.
#include "tests/parser/interpreter/reading_helper.h"

namespace provecut {
namespace {

TEST(LocalOffset, coordinates_count_from_it_until_it_is_taken_back) {
  const Program p = interpret("G21 G90 G17 G0 X1 Y1 Z5\nG52 X100 Y50\nG0 X1 Y1\nG52 X0 Y0\nG0 X1 Y1\nM2");
  expectSteps(movesFrom(p, 0), {T(1, 1, 5), T(101, 51, 5), T(1, 1, 5)});
  EXPECT_TRUE(p.problems.empty());
  EXPECT_TRUE(p.read_whole);
}

TEST(LocalOffset, it_moves_nothing_itself_and_leaves_other_axes) {
  const Program p = interpret("G21 G90 G17 G0 X1 Y1 Z5\nG52 X100\nG52 Y50\nG0 X0 Y0 Z2\nM2");
  expectSteps(movesFrom(p, 0), {T(1, 1, 5), T(100, 50, 2)});
}

TEST(LocalOffset, it_counts_in_the_unit_in_force_and_within_every_work_offset) {
  const Program p =
      interpret("G20 G90 G17 G0 X0 Y0 Z1\nG52 X2\nG55\nG0 X1\nM2", {.work_offset_mm = {{2, {100, 0, 0}}}});
  ASSERT_EQ(p.motions.size(), 2u);
  EXPECT_NEAR(p.motions[1].end.x, 100 + 3 * 25.4, 1e-9);
}

TEST(LocalOffset, g92_gives_the_present_place_its_name_within_it) {
  const Program p = interpret("G21 G90 G17 G0 X10 Y0 Z5\nG52 X100\nG92 X0\nG0 X1\nM2");
  ASSERT_EQ(p.motions.size(), 2u);
  EXPECT_NEAR(p.motions[1].end.x, 11, 1e-9);
}

TEST(LocalOffset, without_an_axis_it_sets_nothing_and_is_told) {
  EXPECT_NE(find(interpret("G21 G90 G17 G0 X10 Y0 Z5\nG52\nM2"), "zero-shift-without-axis"), nullptr);
  EXPECT_NE(find(strictly("G21 G90 G17 G0 X10 Y0 Z5\nG52 X1\nM2"), "unknown-code"), nullptr);
}

TEST(ReadParameter, the_place_is_read_in_the_programs_own_numbers) {
  const Program p = interpret("G20 G90 G17 G0 X1 Y2 Z3\nG52 X1\nG0 X[#5420+1] Y[#5421*2] Z[#5422-1]\nM2");
  ASSERT_EQ(p.motions.size(), 2u);
  EXPECT_NEAR(p.motions[1].end.x, 2 * 25.4, 1e-9);  // X0 of the local zero, plus 1, 1 in away
  EXPECT_NEAR(p.motions[1].end.y, 4 * 25.4, 1e-9);
  EXPECT_NEAR(p.motions[1].end.z, 2 * 25.4, 1e-9);
  EXPECT_TRUE(p.problems.empty());
}

TEST(ReadParameter, the_tool_and_its_diameter_are_read) {
  const Program p = interpret("G21 G90 G17 T3 M6\nG0 X#5400 Y[#5410/2] Z5\nM2", {.tool_diameter_mm = {{3, 8}}});
  ASSERT_EQ(p.motions.size(), 1u);
  EXPECT_EQ(p.motions[0].end, (WorkPoint{3, 4, 5}));
}

TEST(ReadParameter, a_place_that_is_not_known_is_told) {
  EXPECT_NE(find(interpret("G21 G90 G17\nG0 Z[#5422+5]\nM2"), "parameter-unset"), nullptr);
}

TEST(OffsetNumber, an_h_beyond_the_tools_is_an_offset) {
  const InterpreterOptions job{.tool_diameter_mm = {{1, 6}, {2, 3}}};
  const std::string head = "G21 G90 G17 T1 M6\n";
  EXPECT_TRUE(interpret(head + "G0 G43 H11 Z5\nM2", job).problems.empty());
  EXPECT_NE(find(interpret(head + "G0 G43 H2 Z5\nM2", job), "length-offset-of-other-tool"), nullptr);
  EXPECT_NE(find(interpret(head + "T7 M6\nT1 M6\nG0 G43 H7 Z5\nM2", job), "length-offset-of-other-tool"), nullptr);
}

TEST(OffsetNumber, a_program_whose_numbers_went_together_is_told_where_they_do_not) {
  EXPECT_NE(find(interpret("G21 G90 G17 T7 M6\nG0 G43 H7 Z5\nT4 M6\nG0 G43 H5 Z5\nM2"), "length-offset-of-other-tool"),
            nullptr);
}

TEST(OffsetNumber, a_d_beyond_the_tools_compensates_for_the_tool_in_the_spindle) {
  const InterpreterOptions job{.tool_diameter_mm = {{1, 6}}};
  const Program p = interpret("G21 G90 G17 F100 T1 M6\nG0 X0 Y0 Z5\nG41 D33 G1 X20\nG1 Y40\nG40 G0 X0\nM2", job);
  EXPECT_THAT(idsOf(p), ::testing::ElementsAre("compensation-offset"));
  ASSERT_GT(p.motions.size(), 2u);
  EXPECT_TRUE(p.read_whole);
  EXPECT_NE(find(interpret("G21 G90 G17 F100 T9 M6\nG0 X0 Y0 Z5\nG41 D33 G1 X20\nG40 G0 X0\nM2", job),
                 "compensation-diameter-unknown"),
            nullptr);
}

TEST(ToolZero, t0_leaves_what_the_job_says_is_in_the_spindle) {
  const Program p = interpret("G21 G90 G17 T0 M6\nG0 X1\nT3 M6\nG0 X2\nT0 M6\nG0 X3\nM2", {.tool_in_spindle = 5});
  ASSERT_EQ(p.motions.size(), 3u);
  EXPECT_EQ(p.motions[0].tool, 5);
  EXPECT_EQ(p.motions[1].tool, 3);
  EXPECT_EQ(p.motions[2].tool, 5);
  EXPECT_EQ(interpret("G21 G90 G17 T0 M6\nG0 X1\nM2").motions.at(0).tool, 0);
}

TEST(FeedOfTheToolBefore, counts_where_the_tool_has_a_feed_of_its_own_later) {
  const std::string two = "G21 G90 G17 T1 M6 F300\nG0 X0 Y0 Z5\nG1 Z-1\nT2 M6\nG0 Z5\nG1 Z-1\n";
  EXPECT_EQ(find(interpret(two + "G1 X5\nM2"), "feed-from-other-tool"), nullptr);  // one feed for all
  EXPECT_EQ(find(interpret(two + "F300 G1 X5\nM2"), "feed-from-other-tool"), nullptr);
  const Program p = interpret(two + "G1 X5 F80\nM2");
  const Problem* told = find(p, "feed-from-other-tool");
  ASSERT_NE(told, nullptr);
  EXPECT_EQ(told->place.line, 6u);
  EXPECT_EQ(factOf<fact::Tool>(*told, 0).number, 2);
}

TEST(Tapping, g74_is_the_left_hand_one_and_both_are_named_as_what_the_machine_must_take) {
  const auto features = [](const char* cycle) {
    std::vector<std::string> names;
    const Program p = interpret(std::string("G21 G90 G17 F100 S500 M3\nG0 X0 Y0 Z5\n") + cycle + "\nG80\nM2");
    for (const FeatureUse& f : p.features) names.push_back(f.feature);
    return names;
  };
  using ::testing::Contains;
  using ::testing::Not;
  EXPECT_THAT(features("G84 X1 Y1 Z-5 R1"), Contains("tapping"));
  EXPECT_THAT(features("G74 X1 Y1 Z-5 R1"), Contains("tapping"));
  EXPECT_THAT(features("G86 X1 Y1 Z-5 R1 P1"), Contains("spindle-orientation"));
  EXPECT_THAT(features("G85 X1 Y1 Z-5 R1"), Not(Contains("spindle-orientation")));
  EXPECT_THAT(features("G81 X1 Y1 Z-5 R1"), Not(Contains("tapping")));
}

}  // namespace
}  // namespace provecut
