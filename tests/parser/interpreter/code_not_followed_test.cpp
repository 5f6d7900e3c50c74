// Axis words beside a G code that is not followed: whose are they?
#include "tests/parser/interpreter/reading_helper.h"

namespace provecut {
namespace {

using ::testing::ElementsAre;

// G0 is in force, the tool at X1 Y1 Z5; then the line, then a rapid up.
Program between(const std::string& line) {
  return interpret("G21 G90 G17 F100 M3 S9000 G0 X1 Y1 Z5\n" + line + "\nG0 Z9\nM2");
}

TEST(CodeNotFollowed, the_depth_of_a_pocket_cycle_is_no_rapid) {
  const Program p = between("G13 Z-3 I2 K4 Q1 F60");
  ASSERT_THAT(idsOf(p), ElementsAre("not-followed"));
  EXPECT_EQ(p.problems[0].kind, ProblemKind::path_not_followed);
  EXPECT_FALSE(p.read_whole);
  ASSERT_EQ(p.motions.size(), 3u);
  EXPECT_EQ(p.motions[1].kind, MotionKind::feed);
  EXPECT_EQ(p.motions[1].end, (WorkPoint{1, 1, -3}));
  EXPECT_EQ(p.motions[1].feed_mm_min, 60);
  EXPECT_EQ(p.motions[2].start, (WorkPoint{1, 1, -3}));
}

// It is over with its line: what follows goes on as before.
TEST(CodeNotFollowed, after_a_pocket_the_motion_code_before_it_is_in_force) {
  EXPECT_EQ(between("G13 Z-3 I2 F60\nX4").motions.at(2).kind, MotionKind::rapid);
  // A spline stays on.
  EXPECT_EQ(between("G5.1 X3 Y3 I1 J1\nX4").motions.at(2).kind, MotionKind::feed);
}

TEST(CodeNotFollowed, where_another_cycle_leaves_the_tool_is_not_known) {
  for (const char* line : {"G76 X20 Z-3 R2 Q1", "G150 X20 Y20 Z-3 R2", "G65 P9000 X20 Z-3", "G77 X20 Z-3"}) {
    const Program p = between(line);
    ASSERT_THAT(idsOf(p), ElementsAre("not-followed")) << line;
    EXPECT_EQ(p.problems[0].kind, ProblemKind::cycle_not_followed) << line;
    // Nothing is run, and the next move begins from an unknown place.
    ASSERT_EQ(p.motions.size(), 2u) << line;
    EXPECT_NE(p.motions[1].flags & motion_start_unknown, 0) << line;
  }
}

TEST(CodeNotFollowed, a_cut_at_the_height_that_a_cycle_left_is_told) {
  const Program p = between("G76 X20 Y20 Z-3 R2 Q1\nG0 X1 Y1\nG1 X9");
  ASSERT_THAT(idsOf(p), ElementsAre("not-followed", "position-unknown"));
  EXPECT_EQ(factOf<fact::Axes>(p.problems[1], 0), (fact::Axes{false, false, true}));
  // Once Z is named the height is known again.
  EXPECT_THAT(idsOf(between("G76 X20 Y20 Z-3 R2 Q1\nG0 X1 Y1 Z5\nG1 Z-1\nX9")), ElementsAre("not-followed"));
}

TEST(CodeNotFollowed, the_centre_of_a_rotation_is_no_move) {
  for (const char* line : {"G68 X20 Y20 R45", "G51 X0 Y0 P2", "G51.1 X0", "G22 X50 Y50 Z-10"}) {
    const Program p = between(line);
    ASSERT_THAT(idsOf(p), ElementsAre("not-followed")) << line;
    EXPECT_EQ(p.problems[0].kind, ProblemKind::frame_not_followed) << line;
    EXPECT_EQ(p.motions.size(), 2u) << line;
  }
}

// These have no axis words of their own: a rapid beside them is one.
TEST(CodeNotFollowed, a_move_beside_a_code_without_axis_words_is_run) {
  for (const char* line : {"G9 G0 X20 Z-3", "G60 X20 Z-3", "G64 G0 X20 Z-3", "G54.1 P3 X20 Z-3", "G110 X20 Z-3",
                           "G96 S200 X20 Z-3", "G5 P2\nX20 Z-3"}) {
    const Program p = between(line);
    ASSERT_EQ(p.motions.size(), 3u) << line;
    EXPECT_EQ(p.motions[1].kind, MotionKind::rapid) << line;
    EXPECT_EQ(p.motions[1].end, (WorkPoint{20, 1, -3})) << line;
  }
}

TEST(CodeNotFollowed, increments_from_an_unknown_place_name_all_axes_that_they_move) {
  const Program p = interpret("G21 G91 G17 F100 M3 S9000\nG0 X5 Y5\nG1 Z-6\nG90\nM2");
  ASSERT_THAT(idsOf(p), ElementsAre("position-unknown"));
  EXPECT_EQ(p.problems[0].place.line, 2u);
  EXPECT_EQ(factOf<fact::Axes>(p.problems[0], 0), (fact::Axes{true, true, true}));
}

}  // namespace
}  // namespace provecut
