// What programs hold besides G-code, and what is not followed: recognised by its shape, never a fault of the program.
#include "tests/parser/interpreter/reading_helper.h"

namespace provecut {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

Program between(const std::string& line) {
  return interpret("G21 G90 G17 G0 X1 Y1 Z5\n" + line + "\nG0 X2\nM2");
}

TEST(ControllerStatement, messages_logs_and_settings_are_one_note_and_move_nothing) {
  for (const char* line :
       {"$X", "$110=500", "$$", "PRINT \"half done\"", "DPRNT[X#1[53]]", "N40 MSG(\"turn the part\")", "MSG, turn it",
        "M117 Half done", "M118 X1 done", "M0 insert the 6 mm tool", "M1 \"look\"", "M6 change to drill", "{\"sv\":1}",
        "// made by hand", "PROBEOPEN probe.txt", "LOGCLOSE", "WORKPIECE(,,,\"BOX\",112,0,-20)", "print x5 y7"}) {
    const Program p = between(line);
    EXPECT_THAT(idsOf(p), ElementsAre("controller-statement")) << line;
    EXPECT_TRUE(p.read_whole) << line;
    ASSERT_EQ(p.motions.size(), 2u) << line;
  }
}

TEST(ControllerStatement, behind_a_slash_it_is_skipped_where_the_line_is) {
  const std::string text = "G21 G90 G17 G0 X1 Y1 Z5\n/ PRINT \"a\"\n/ $J=X5\nM2";
  EXPECT_FALSE(interpret(text).read_whole);
  EXPECT_TRUE(interpret(text, {.block_delete = true}).read_whole);
}

TEST(ControllerStatement, many_in_a_program_are_still_one_note) {
  EXPECT_THAT(idsOf(between("$X\n$H\nM117 a\nPRINT \"b\"")), ElementsAre("controller-statement"));
}

TEST(ControllerStatement, a_stop_with_a_text_is_still_a_stop) {
  const Program p = between("M0 insert the 6 mm tool");
  ASSERT_FALSE(p.events.empty());
  EXPECT_EQ(p.events.front().kind, EventKind::stop);
  EXPECT_EQ(factOf<fact::Text>(p.problems.at(0), 0).text, "insert the 6 mm tool");
}

// A typing slip on the line is no message.
TEST(ControllerStatement, letters_within_a_move_stay_a_fault) {
  for (const char* line : {"G1 X__ Y5", "G1 XX5", "G1 Xabc", "M3 on", "GO X5", "FEED 100"}) {
    EXPECT_NE(find(between(line), "syntax"), nullptr) << line;
    EXPECT_FALSE(between(line).read_whole) << line;
  }
}

TEST(ControllerStatement, what_may_move_the_machine_is_not_followed_and_said_so) {
  for (const char* line : {"$J=G91 X10 F500", "IF [#1 GT 5] GOTO 20", "WHILE [#1 LT 3] DO1", "END1", "GOTO 20",
                           "N9 GOTO20", "CYCLE83(5,0,2,-12)", "CALL \"pocket\"", "G65 P9000", "G68 R30", "G51 X2",
                           "G13 I5 F100", "G1 X#<depth>", "#<depth> = 5", "G1 X#5500", "#6000 = 1"}) {
    const Program p = between(line);
    EXPECT_THAT(idsOf(p), ElementsAre("not-followed")) << line;
    EXPECT_FALSE(p.read_whole) << line;
  }
}

TEST(ControllerStatement, a_code_that_nobody_has_is_unknown) {
  EXPECT_NE(find(between("G400 X5"), "unknown-code"), nullptr);
  EXPECT_NE(find(between("G3.7 X5"), "unknown-code"), nullptr);
}

TEST(ControllerStatement, strictly_read_all_of_it_is_refused) {
  for (const char* line : {"$X", "PRINT \"a\"", "M117 a", "IF [#1 GT 5] GOTO 20", "G1 X#<depth>"})
    EXPECT_NE(find(strictly(std::string("G21 G90 G17 G0 X1 Y1 Z5\n") + line + "\nM2"), "syntax"), nullptr) << line;
}

TEST(ControllerStatement, m_codes_that_switch_something_are_a_note_and_others_a_look) {
  EXPECT_THAT(idsOf(between("M31\nM33\nM10")), ElementsAre("machine-function"));
  EXPECT_TRUE(between("M31").read_whole);
  EXPECT_THAT(idsOf(between("M777")), ElementsAre("machine-function-unknown"));
  EXPECT_THAT(idsOf(between("M3.5")), ElementsAre("unknown-code"));
}

// "M45" between N40 and N50.
TEST(ControllerStatement, an_m_where_the_lines_have_their_number_is_asked_about) {
  const Program p = interpret("N10 G21 G90 G17 G0 X1 Y1 Z5\nN20 G54\nM45 M3 S300\nN50 G0 X2\nN60 M2");
  ASSERT_THAT(idsOf(p), ElementsAre("unknown-code"));
  EXPECT_EQ(p.problems[0].kind, ProblemKind::line_number_as_m);
  EXPECT_EQ(factOf<fact::Code>(p.problems[0], 1).text, "N45");
  EXPECT_THAT(idsOf(between("M45 M3 S300")), ElementsAre("machine-function-unknown"));
}

TEST(ControllerStatement, homing_by_letter_is_read) {
  const Program p = interpret("G21 G90 G17 G0 X1 Y1 Z5\nG28 X ; home\nG0 Y3\nM2");
  // Sideways at Z 5: told as the way that it is, and once.
  ASSERT_THAT(idsOf(p), ElementsAre("machine-move"));
  EXPECT_EQ(factOf<fact::Axes>(p.problems[0], 0), (fact::Axes{true, false, false}));
  EXPECT_THAT(idsOf(interpret("G21 G90 G17 G0 X1 Y1 Z5\nG28 Z ; up\nG0 Y3\nM2")), ElementsAre("controller-statement"));
  EXPECT_TRUE(p.read_whole);
  ASSERT_EQ(p.motions.size(), 3u);
  EXPECT_EQ(p.motions[1].end.z, 5);
  EXPECT_TRUE((p.motions[1].flags & motion_machine_frame) != 0);
  // A letter without its number anywhere else, or one that is no axis, stays a fault.
  EXPECT_NE(find(interpret("G21 G90 G17 G0 X1 Y1 Z5\nG1 X\nM2"), "syntax"), nullptr);
  EXPECT_NE(find(interpret("G21 G90 G17 G0 X1 Y1 Z5\nG28 X___\nM2"), "syntax"), nullptr);
  EXPECT_NE(find(strictly("G21 G90 G17 G0 X1 Y1 Z5\nG28 X\nM2"), "syntax"), nullptr);
}

TEST(ControllerStatement, the_pitch_of_a_helix_is_no_stray_word) {
  const std::string helix = "G21 G90 G17 F100 G0 X0 Y0 Z1\nG3 X10 Y0 Z0.9 I5 J0 K0.2\nM2";
  EXPECT_THAT(idsOf(interpret(helix)), IsEmpty());
  EXPECT_THAT(idsOf(interpret("G21 G90 G17 F100 G0 X0 Y0 Z1\nG3 X10 Y0 I5 J0 K0.2\nM2")), ElementsAre("word-unused"));
}

TEST(ControllerStatement, a_percent_that_ends_the_program_is_told_once) {
  const Program p = interpret("G21 G90 G17 G0 X1 Y1 Z5\n%");
  ASSERT_THAT(idsOf(p), ElementsAre("percent-unpaired"));
  EXPECT_EQ(p.problems[0].kind, ProblemKind::percent_ends_program);
  EXPECT_THAT(idsOf(interpret("G21 G90 G17 G0 X1 Y1 Z5\n")), ElementsAre("end-missing"));
}

TEST(ControllerStatement, m13_turns_the_spindle_as_m3_does) {
  const Program p = interpret("G21 G90 G17 S9000 M13\nG0 X1\nM14\nG0 X2\nM2");
  ASSERT_EQ(p.motions.size(), 2u);
  EXPECT_EQ(p.motions[0].spindle, Spindle::cw);
  EXPECT_EQ(p.motions[1].spindle, Spindle::ccw);
}

// After it the tool is at the machine's home, wherever that is.
TEST(ControllerStatement, homing_goes_to_an_unknown_place_at_the_top) {
  const Program p = interpret("G21 G90 G17 F100 G0 X1 Y1 Z5\n$H\nG1 Z-1\nM2", {.top_of_travel_mm = 90});
  ASSERT_EQ(p.motions.size(), 3u);
  EXPECT_EQ(p.motions[1].end.z, 90);
  EXPECT_TRUE((p.motions[1].flags & motion_height_unknown) != 0);
  EXPECT_NE(find(p, "position-unknown"), nullptr);  // the cut that follows
}

TEST(ControllerStatement, text_behind_a_percent_is_a_note) {
  const Program p = interpret("%1234\nG21 G90 G17 G0 X1\nM2\n%");
  EXPECT_THAT(idsOf(p), ElementsAre("beyond-standard"));
  EXPECT_TRUE(p.read_whole);
}

TEST(ControllerStatement, words_of_value_zero_that_nothing_uses_are_let_be_and_others_are_not) {
  EXPECT_THAT(idsOf(between("G1 X5 F100 K0 H0")), IsEmpty());
  EXPECT_THAT(idsOf(between("G1 X5 F100 K0.165")), ElementsAre("word-unused"));
}

TEST(ControllerStatement, long_line_numbers_are_told_only_where_machines_stumble) {
  EXPECT_THAT(idsOf(between("N100000 G0 X5\nN9999999 G0 X6")), IsEmpty());
  EXPECT_THAT(idsOf(between("N10000000 G0 X5")), ElementsAre("line-number-odd"));
  EXPECT_THAT(idsOf(between("N10.5 G0 X5")), ElementsAre("line-number-odd"));
  EXPECT_THAT(idsOf(between("G0 X5 N20")), ElementsAre("line-number-odd"));
}

TEST(ControllerStatement, other_ways_to_probe_are_followed_to_where_they_touch) {
  for (const char* code : {"G38.2", "G38.3"}) {
    const Program p = interpret(std::string("G21 G90 F100 G0 X0 Y0 Z5\n") + code + " Z-3\nM2", {.probe_touch_mm = 1});
    ASSERT_EQ(p.motions.size(), 2u) << code;
    EXPECT_EQ(p.motions[1].kind, MotionKind::probe);
    EXPECT_EQ(p.motions[1].end.z, 1);
  }
}

}  // namespace
}  // namespace provecut
