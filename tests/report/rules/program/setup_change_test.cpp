#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace setup_change {

using ::testing::HasSubstr;

// A cut, then these lines, then another cut.
struct Between : Scene {
  explicit Between(const std::string& lines, const std::string& head = "(OP 1)\n(G54 BACK-LEFT-TOP)\nG54\n",
                   bool cut_before = true) {
    text() = head + (cut_before ? "G1 X50 Y0 Z-1\n" : "") + lines + "\nG1 X90 Y10 Z-1\n";
    std::uint32_t number = 1;
    std::size_t from = 0;
    for (std::size_t end = text().find('\n'); end != std::string::npos; end = text().find('\n', from), ++number) {
      if (text().substr(from, 4) == "G1 X") feed({50, 0, -1}).line = number;
      from = end + 1;
    }
  }
  std::vector<Finding> found() { return findings(setup_change_rule); }
};

TEST(SetupChange, another_operation_with_a_zero_of_its_own_after_a_stop) {
  Between s("M00\n(OP 2)\n(G54 FRONT-LEFT-TOP)\nM01\nT1 M6");
  const auto findings = s.found();
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].place.line, 6u);
  EXPECT_EQ(findings[0].moves, 1u);
  EXPECT_THAT(findings[0].message,
              HasSubstr("the comment (OP 2) begins another setup at a stop; all of the program was "
                        "checked in setup"));
  EXPECT_THAT(findings[0].help, HasSubstr("Split the program after line 5,"));
  EXPECT_EQ(findings[0].related.at(0).place.line, 5u);
}

TEST(SetupChange, the_zero_may_stay_at_the_same_corner_of_the_other_side) {
  EXPECT_EQ(Between("M0\n(OP 2)\n(WCS G54 BACK-LEFT-TOP)").found().size(), 1u);
}

TEST(SetupChange, a_zero_at_another_corner_needs_no_operation) {
  EXPECT_EQ(Between("M0\n(G54 FRONT-RIGHT-TOP)").found().size(), 1u);
  EXPECT_TRUE(Between("M0\n(G54 BACK-LEFT-TOP)").found().empty());
}

TEST(SetupChange, turned_over_or_moved_in_the_words_of_the_shop) {
  for (const char* line :
       {"M0 (flip the part)", "M0 (MSG, turn part over)", "(turn over)\nM0", "M1 ; rotate stock 180 deg",
        "M0\n(OTHER SIDE)", "M0\n(SIDE 2)", "M0\n(2nd side)\n(SECOND SETUP)", "M60\n(Setup 2)", "M0 flip it",
        "M0\n(BOTTOM SIDE)", "M0\n(Werkstück umspannen)"})
    EXPECT_EQ(Between(line, "G54\n").found().size(), 1u) << line;
}

TEST(SetupChange, with_the_next_work_offset_as_well) {
  const auto findings = Between("G0 G55\n(OP 2)\n(WCS G55 BACK-LEFT-TOP)", "(OP 1)\nG54\n").found();
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_THAT(findings[0].help, HasSubstr("Split the program before line 4,"));
  EXPECT_TRUE(Between("G54\n(OP 2)\n(WCS G54 BACK-LEFT-TOP)", "(OP 1)\nG54\n").found().empty());
}

TEST(SetupChange, every_further_one_is_told_under_the_first) {
  const auto findings =
      Between("M0\n(OP 2)\n(WCS G54 BACK-LEFT-TOP)\nG1 X60\nM0\n(OP 3)\n(WCS G54 BACK-LEFT-TOP)").found();
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].moves, 2u);
  EXPECT_EQ(findings[0].last_line, 10u);
}

TEST(SetupChange, ordinary_comments_at_a_stop_begin_none) {
  for (const char* line :
       {"M0 (change tool)", "M0 (check the depth)", "M0\n(move clamp to the left side)", "M0 (turn spindle on)",
        "M0 (TURN ON THE VACUUM, THEN PRESS START)", "M0\n(OP 2 - DRILL HOLES)", "M1\n(Operation: Pocket 2)",
        "M0 (insert 6 mm end mill, set Z zero)", "M0\n(FACE BOTTOM)", "M0 (clear chips)", "M0\n(Contour inside 2)",
        "M0\n(pocket on the back side)", "M0 (remove parts)"})
    EXPECT_TRUE(Between(line).found().empty()) << line;
}

TEST(SetupChange, without_a_stop_it_is_only_a_comment) {
  EXPECT_TRUE(Between("(OP 2)\n(G54 FRONT-LEFT-TOP)").found().empty());
  EXPECT_TRUE(Between("(the other side comes later: flip)").found().empty());
}

TEST(SetupChange, before_the_first_cut_the_setup_is_only_made) {
  EXPECT_TRUE(Between("M0\n(OP 2)\n(G54 FRONT-LEFT-TOP)", "(OP 1)\n(G54 BACK-LEFT-TOP)\n", false).found().empty());
}

// Cuts of the other setup are in the air of this one.
TEST(SetupChange, air_is_not_told_of_a_program_with_two) {
  const auto air = [](const std::string& lines) {
    Between s(lines);
    s.feed_mm_min = 600;
    s.program().motions.back().end.x = 900;
    s.programRun().cuts[0] = {10, 1, 1};
    return s.findings(air_cut_rule).size();
  };
  EXPECT_EQ(air("M0 (change tool)"), 1u);
  EXPECT_EQ(air("M0 (flip the part)"), 0u);
}

}  // namespace setup_change
}  // namespace provecut
