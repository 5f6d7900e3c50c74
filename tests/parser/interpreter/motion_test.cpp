#include "tests/parser/interpreter/reading_helper.h"

namespace provecut {
namespace {

TEST(Motion, rapids_and_feeds_in_millimetres_and_inches) {
  const Program p = interpret("G21 G90\nG0 X1 Y2 Z3\nG1 Z-1 F100\nG20\nX1 F10\nM2");
  expectSteps(movesFrom(p, 0), {T(1, 2, 3), F(1, 2, -1), F(25.4, 2, -1)});
  EXPECT_FLOAT_EQ(p.motions[1].feed_mm_min, 100);
  EXPECT_FLOAT_EQ(p.motions[2].feed_mm_min, 254);
  EXPECT_TRUE(p.problems.empty());
}

TEST(Motion, a_motion_code_stays_in_force) {
  const Program p = interpret("G21G90G0X0Y0Z5\ng1z-1f50\nx10\ny10\ng0z5\nm30");
  expectSteps(movesFrom(p, 0), {T(0, 0, 5), F(0, 0, -1), F(10, 0, -1), F(10, 10, -1), T(10, 10, 5)});
}

TEST(Motion, increments_add_up) {
  const Program p = interpret("G21 G90 G0 X1 Y1 Z1\nG91 G1 X2 F10\nX2 Z-3\nM2");
  expectSteps(movesFrom(p, 1), {F(3, 1, 1), F(5, 1, -2)});
}

TEST(Motion, the_start_is_unknown_until_each_axis_was_named) {
  const Program p = interpret("G21 G90\nG0 Z5\nX1\nY1\nX2\nM2", {.top_of_travel_mm = 80});
  ASSERT_EQ(p.motions.size(), 4u);
  EXPECT_EQ(p.motions[0].start, (WorkPoint{0, 0, 80}));
  EXPECT_TRUE(p.motions[0].flags & motion_start_unknown);
  EXPECT_TRUE(p.motions[1].flags & motion_start_unknown);
  EXPECT_TRUE(p.motions[2].flags & motion_start_unknown);
  EXPECT_FALSE(p.motions[3].flags & motion_start_unknown);
}

std::vector<std::uint32_t> linesAtUnknownPlace(const std::string& text) {
  std::vector<std::uint32_t> lines;
  for (const Problem& q : interpret("G21 G90 G17 G94 F100\n" + text + "\nM2").problems) {
    if (q.id == "position-unknown") lines.push_back(q.place.line);
  }
  return lines;
}

// NISTIR 6556 3.5.17: increments count from where each axis stands, and a known Z says nothing of X and Y.
TEST(Motion, increments_from_an_unknown_place_are_said_axis_by_axis) {
  using testing::ElementsAre;
  EXPECT_THAT(linesAtUnknownPlace("G0 Z30\nG91\nG0 X50 Y50\nG1 Z-31\nX10"), ElementsAre(4));
  EXPECT_THAT(linesAtUnknownPlace("G0 Z30 X0\nG91 G0 X5\nG0 Y5"), ElementsAre(4));
  EXPECT_THAT(linesAtUnknownPlace("G0 X0 Y0\nG91 G1 Z-3"), ElementsAre(3));
  EXPECT_THAT(linesAtUnknownPlace("G0 Z5 X0\nG91 G2 X5 Y0 I2.5"), ElementsAre(3));
  EXPECT_THAT(linesAtUnknownPlace("G0 X0 Y0\nG91 G81 X5 Z-5 R-1"), ElementsAre(3));
  EXPECT_THAT(linesAtUnknownPlace("G0 Z5\nG91 G28 X5"), ElementsAre(3));
  // No way is made along an axis whose word is 0, and these were set.
  EXPECT_THAT(linesAtUnknownPlace("G91 G28 Z0\nG28 X0 Y0\nG90 G0 X0 Y0\nG91 G0 X5 Y5 Z-1"), testing::IsEmpty());
  EXPECT_THAT(linesAtUnknownPlace("G92 X0 Y0 Z0\nG91 G0 Z5\nX5 Y5\nG1 Z-6"), testing::IsEmpty());
}

// Where a cut with X or Y unknown lies is not known; one finding stands for the program.
TEST(Motion, feeding_at_an_unknown_place_is_said_once) {
  using testing::ElementsAre;
  EXPECT_THAT(linesAtUnknownPlace("G0 Z5\nG1 Z-5\nG1 X50 Y50\nG0 Z5\nG0 X0 Y0\nG1 Z-5"), ElementsAre(3));
  EXPECT_THAT(linesAtUnknownPlace("G0 Z5\nG1 Z-5\nG0 Z5\nG1 Z-5\nG0 Z5"), ElementsAre(3));
  EXPECT_THAT(linesAtUnknownPlace("G0 X0 Z5\nG1 Z-5\nX20\nG0 Z5"), ElementsAre(3));
  EXPECT_THAT(linesAtUnknownPlace("G0 Z5\nG81 Z-5 R1"), ElementsAre(3));
  EXPECT_THAT(linesAtUnknownPlace("G1 Z-5"), ElementsAre(2));
  EXPECT_THAT(linesAtUnknownPlace("G0 Z25\nG1 Z14\nX50 Y50\nZ10\nG0 Z25\nG0 X0 Y0"),
              ElementsAre(3));  // zero on the bed
  const Problem said = *find(interpret("G21 G90 G17 F100\nG0 X0 Z5\nG1 Z-5\nM2"), "position-unknown");
  EXPECT_EQ(factOf<fact::Axes>(said, 0), (fact::Axes{false, true, false}));
}

TEST(Motion, the_usual_ways_to_begin_are_not_spoken_of) {
  for (const char* start : {"G0 Z5\nG0 X1 Y1\nG1 Z-5", "G0 X1 Y1\nG0 Z5\nG1 Z-5", "G0 Z5\nG0 X1\nG0 Y1\nG1 Z-5",
                            "G53 G0 Z0\nG0 X1 Y1\nG1 Z-1",
                            // Without rapids.
                            "G1 Z3\nG1 X0\nG1 Y0\nG1 Z-1", "G1 Z25\nG1 Z5\nG1 X0 Y-53\nG1 Z-1",
                            // Probing comes first.
                            "G38.2 Z-10\nG92 Z0\nG0 Z5\nG0 X1 Y1\nG1 Z-1"}) {
    EXPECT_THAT(linesAtUnknownPlace(start), testing::IsEmpty()) << start;
  }
}

// NISTIR 6556 3.5.8 and 3.5.12: home and the machine's frame, without the work zero in it.
TEST(Motion, a_place_lost_by_a_machine_move_is_unknown_again) {
  using testing::ElementsAre;
  const std::string before = "G0 Z5\nG0 X10 Y10\nG1 Z-1\nG0 Z5\n", after = "G91\nG0 X50\nG90\nG1 Z-1";
  EXPECT_THAT(linesAtUnknownPlace(before + after), testing::IsEmpty());
  for (const char* lost : {"G28\n", "G30\n", "G28 X10\n", "G53 G0 X0\n"}) {
    EXPECT_THAT(linesAtUnknownPlace(before + lost + after), ElementsAre(8)) << lost;
    EXPECT_THAT(linesAtUnknownPlace(before + lost + "G0 Z5\nG1 Z-1"), ElementsAre(8)) << lost;
    EXPECT_THAT(linesAtUnknownPlace(before + lost + "G0 X1 Y1\nG91\nX1 Y1\nG1 Z-200"), testing::IsEmpty()) << lost;
  }
  EXPECT_THAT(linesAtUnknownPlace(before + "G28 Z0\n" + after), testing::IsEmpty());
  EXPECT_THAT(linesAtUnknownPlace("G0 Z5\nG1 Z-1\n" + before + "G28\nG0 Z5\nG1 Z-1"), ElementsAre(3, 10));
  EXPECT_EQ(find(interpret("G21 G90 F100 G0 X1 Y1 Z5\nG28\nG91 G1 X5\nM2", {.zero_in_machine = MachinePoint{}}),
                 "position-unknown"),
            nullptr);
}

TEST(Motion, each_move_points_to_its_line_and_words) {
  const Program p = interpret("G21 G90\r\n\r\nN10 G0 X12.5 Y11.8 F100\r\nM2\r\n");
  ASSERT_EQ(p.motions.size(), 1u);
  EXPECT_EQ(p.motions[0].line, 3u);
  EXPECT_EQ(p.motions[0].column, 8u);
  EXPECT_EQ(p.motions[0].end_column, 19u);
  EXPECT_EQ(p.lines, 4u);
}

TEST(Motion, line_ends_of_all_three_kinds_count_alike) {
  for (const char* end : {"\n", "\r", "\r\n"}) {
    const std::string e = end;
    const Program p = interpret("G21" + e + e + "G90" + e + "G0 X1" + e + "M2");
    ASSERT_EQ(p.motions.size(), 1u);
    EXPECT_EQ(p.motions[0].line, 4u);
    EXPECT_EQ(p.lines, 5u);
  }
}

TEST(Motion, a_byte_order_mark_is_passed_over) {
  const Program p = interpret("\xEF\xBB\xBF%\nG21 G90 G0 X1\n%\n");
  EXPECT_EQ(p.motions.size(), 1u);
  EXPECT_TRUE(p.problems.empty());
}

TEST(Feed, a_feed_move_without_a_feed_is_said_once_and_marked) {
  const Program p = interpret("G21 G90 G1 X1\nX2\nF10 X3\nM2");
  EXPECT_THAT(idsOf(p), testing::ElementsAre("feed-missing"));
  EXPECT_EQ(p.problems.at(0).place.line, 1u);
  EXPECT_TRUE(p.motions.at(0).flags & motion_feed_unset);
  EXPECT_TRUE(p.motions[1].flags & motion_feed_unset);
  EXPECT_FALSE(p.motions[2].flags & motion_feed_unset);
}

// NISTIR 6556 3.5.19: a move at F2 in inverse time lasts half a minute.
TEST(Feed, inverse_time_gives_the_rate_along_the_path) {
  const Program p = interpret("G21 G90 G0 X0 Y0 Z0\nG93 G1 X30 Y40 F2.0\nM2");
  ASSERT_EQ(p.motions.size(), 2u);
  EXPECT_FLOAT_EQ(p.motions[1].feed_mm_min, 100);  // 50 mm in 0.5 min
}

TEST(Tool, the_last_t_before_m6_is_changed_to) {
  const Program p = interpret("G21 G90 T3\nT2\nG0 X1\nM6\nG0 X2\nM2", {.tool_in_spindle = 1});
  ASSERT_EQ(p.motions.size(), 2u);
  EXPECT_EQ(p.motions[0].tool, 1);
  EXPECT_EQ(p.motions[1].tool, 2);
}

TEST(Tool, t_alone_changes_the_tool_where_no_m6_stands) {
  const Program p = interpret("G21 G90 T3\nG0 X1\n(M6 in a comment)\nM2", {.tool_in_spindle = 1});
  EXPECT_EQ(p.motions.at(0).tool, 3);
  ASSERT_FALSE(p.events.empty());
  EXPECT_EQ(p.events[0].kind, EventKind::tool_change);
  EXPECT_EQ(p.events[0].value, 3);
}

TEST(Spindle, starts_and_stops_are_events_and_each_move_knows_the_spindle) {
  const Program p = interpret("G21 G90 S12000 M3\nG0 X1\nM3\nM5\nG0 X2\nM2");
  ASSERT_EQ(p.events.size(), 3u);
  EXPECT_EQ(p.events[0].kind, EventKind::spindle_start);
  EXPECT_EQ(p.events[0].value, 12000);
  EXPECT_EQ(p.events[1].kind, EventKind::spindle_stop);
  EXPECT_EQ(p.events[1].before_motion, 1u);
  EXPECT_EQ(p.events[2].kind, EventKind::end);
  EXPECT_EQ(p.motions.at(0).spindle, Spindle::cw);
  EXPECT_EQ(p.motions[1].spindle, Spindle::off);
}

TEST(Dwell, g4_waits_for_p_seconds) {
  const Program p = interpret("G21 G90 G0 X1\nG4 P1.5\nM2");
  ASSERT_EQ(p.motions.size(), 2u);
  EXPECT_EQ(p.motions[1].kind, MotionKind::dwell);
  EXPECT_FLOAT_EQ(p.motions[1].dwell_s, 1.5f);
}

// NISTIR 6556 3.5.18: at X4, G92 X7 makes the offset -3 and moves nothing; G92 X9 then makes it -5.
TEST(AxisOffset, g92_renames_the_present_point) {
  const Program p = interpret("G21 G90 G0 X4 Y0 Z0\nG92 X7\nG0 X7\nG92 X9\nG0 X9 Y1\nG92.1\nG0 X9\nM2");
  expectSteps(movesFrom(p, 0), {T(4, 0, 0), T(4, 0, 0), T(4, 1, 0), T(9, 1, 0)});
}

TEST(AxisOffset, g92_before_any_move_sets_the_jobs_zero) {
  const Program p = interpret("G21 G92 X0 Y0 Z0\nG91 G1 X5 F10\nM2");
  ASSERT_EQ(p.motions.size(), 1u);
  EXPECT_EQ(p.motions[0].start, (WorkPoint{0, 0, 0}));
  EXPECT_FALSE(p.motions[0].flags & motion_start_unknown);
  EXPECT_NE(find(p, "zero-set-by-program"), nullptr);
}

TEST(WorkOffset, another_system_is_where_the_job_file_says) {
  const Program p = interpret("G21 G90 G54 G0 X1 Y1 Z1\nG55 G0 X1 Y1 Z1\nM2", {.work_offset_mm = {{2, {100, 0, 5}}}});
  expectSteps(movesFrom(p, 0), {T(1, 1, 1), T(101, 1, 6)});
  EXPECT_TRUE(p.problems.empty());
}

TEST(WorkOffset, an_unknown_system_is_said_once) {
  const Program p = interpret("G21 G90 G55 G0 X1\nG56 G0 X2\nM2");
  EXPECT_THAT(idsOf(p), testing::ElementsAre("work-offset-unknown"));
  EXPECT_EQ(p.motions[1].end.x, 2);
}

// NISTIR 6556 3.5.5: G10 L2 gives absolute coordinates of a system's zero.
TEST(WorkOffset, g10_is_relative_to_the_machine) {
  const char* text = "G21 G90 G10 L2 P2 X-300 Y-200 Z-50\nG55 G0 X1 Y2 Z3\nM2";
  const Program known = interpret(text, {.zero_in_machine = MachinePoint{-400, -200, -60}});
  EXPECT_EQ(known.motions.at(0).end, (WorkPoint{101, 2, 13}));
  EXPECT_EQ(find(known, "work-offset-unknown"), nullptr);
  EXPECT_NE(find(interpret(text), "work-offset-unknown"), nullptr);
  const Program both = interpret(std::string("G10 L2 P1 X-400 Y-200 Z-60\n") + text);
  EXPECT_EQ(both.motions.at(0).end, (WorkPoint{101, 2, 13}));
}

TEST(MachineMove, without_the_zero_in_the_machine_z_goes_to_the_top) {
  const Program p = interpret("G21 G90 G0 X1 Y2 Z3\nG28 G91 Z0\nG90 G53 G0 Z0\nM2", {.top_of_travel_mm = 70});
  expectSteps(movesFrom(p, 0), {T(1, 2, 3), T(1, 2, 70), T(1, 2, 70)});
  EXPECT_EQ(p.motions[1].flags, motion_machine_frame | motion_height_unknown);
  EXPECT_TRUE(p.problems.empty());
}

TEST(MachineMove, a_plain_retract_and_a_way_home_from_the_top_ask_for_nothing) {
  for (const char* text : {"G28 G91 Z0\nG90 G28 X0 Y0", "G53 G0 Z0\nG53 G0 X0 Y-5", "G53 G0 Z-5"})
    EXPECT_EQ(find(interpret(std::string("G21 G90 G0 X1 Y2 Z3\n") + text + "\nM2"), "machine-move"), nullptr) << text;
}

TEST(MachineMove, says_of_the_axes_named_what_becomes_of_them) {
  const auto kind = [](const char* line) {
    return find(interpret(std::string("G21 G90 G0 X1 Y2 Z3\n") + line + "\nM2"), "machine-move")->kind;
  };
  EXPECT_EQ(kind("G28 X1 Y2"), ProblemKind::machine_move_in_xy);
  EXPECT_EQ(kind("G53 G0 Z-40"), ProblemKind::machine_move_in_z);
  EXPECT_EQ(kind("G53 G0 X0"), ProblemKind::machine_move_in_xy);
  EXPECT_EQ(kind("G28"), ProblemKind::machine_move_in_all);
}

// A zero for a letter: "G28 G91 G0.0" for Z0.0.
TEST(MachineMove, a_code_with_decimals_where_the_axis_is_missing_is_asked_about) {
  const Program p = interpret("G21 G90 G0 X1 Y2 Z3\nG0 G28 G91 G0.0\nM2");
  ASSERT_THAT(idsOf(p), testing::ElementsAre("code-for-axis"));
  EXPECT_EQ(factOf<fact::Code>(p.problems[0], 0).text, "G0.0");
  EXPECT_EQ(factOf<fact::Code>(p.problems[0], 1).text, "G28");
  for (const char* line : {"G28 G91 Z0.0", "G0.0 X5.0", "G28 G91 G0.0 Z0.0"})
    EXPECT_EQ(find(interpret(std::string("G21 G90 G0 X1 Y2 Z3\n") + line + "\nG90\nM2"), "code-for-axis"), nullptr)
        << line;
  EXPECT_NE(find(interpret("G21 G90 G0 X1 Y2 Z3\nG28\nM2"), "machine-move"), nullptr);
}

TEST(MachineMove, with_it_the_move_is_exact) {
  const Program p =
      interpret("G21 G90 G0 X1 Y2 Z3\nG53 G0 Z-5\nG28 X10 Y20\nM2", {.zero_in_machine = MachinePoint{-100, -200, -60}});
  // Home is the machine's zero (NISTIR 6556 Table 2: 5161 and so on are 0); by way of X10 Y20.
  expectSteps(movesFrom(p, 0), {T(1, 2, 3), T(1, 2, 55), T(10, 20, 55), T(100, 200, 55)});
  EXPECT_EQ(p.motions[1].flags, motion_machine_frame);
  EXPECT_TRUE(p.problems.empty());
}

TEST(Probe, one_that_comes_straight_down_touches_where_the_options_say) {
  const Program p = interpret("G21 G90 F100\nG0 X0 Y0 Z5\nG38.2 Z-3\n#1=#5063\nG10 L20 P1 Z10\nG0 Z[#1+20]\nM2",
                              {.probe_touch_mm = 1});
  ASSERT_EQ(p.motions.size(), 3u);
  EXPECT_EQ(p.motions[1].kind, MotionKind::probe);
  EXPECT_EQ(p.motions[1].end.z, 1);
  EXPECT_EQ(p.motions[2].end.z, 12);  // Z21 with the zero 9 lower
  EXPECT_NE(find(p, "probe-assumed"), nullptr);
}

TEST(Motion, after_g80_the_motion_before_the_cycle_is_taken_up_with_a_finding) {
  const Program p = interpret("G21 G90 G17 F100\nG0 X0 Y0 Z5\nG81 X1 Z-1 R1\nG80\nZ15\nM2");
  ASSERT_FALSE(p.motions.empty());
  EXPECT_EQ(p.motions.back().kind, MotionKind::rapid);
  EXPECT_EQ(p.motions.back().end.z, 15);
  EXPECT_NE(find(p, "motion-mode-after-cycle"), nullptr);
  EXPECT_TRUE(p.read_whole);
}

TEST(Motion, axis_words_where_no_motion_was_ever_on_stay_a_stop) {
  const Program p = interpret("G21 G90 G17 F100\nX1 Z15\nM2");
  EXPECT_NE(find(p, "motion-mode-missing"), nullptr);
  EXPECT_FALSE(p.read_whole);
}

// "G80" in the safe line, then "G43 H5 Z60.": many exporters write so.
TEST(Motion, after_g80_in_the_safe_line_axis_words_are_a_rapid_with_a_finding) {
  const Program p = interpret("G21 G90 G17 G40 G80 G49\nG43 H1 Z60.\nG98 G81 X37. Y64. Z5. R20. F2000.\nM2");
  ASSERT_FALSE(p.motions.empty());
  EXPECT_EQ(p.motions.front().kind, MotionKind::rapid);
  EXPECT_EQ(p.motions.front().end.z, 60);
  EXPECT_EQ(p.motions.back().end.z, 60) << "the cycle goes back up to it";
  EXPECT_NE(find(p, "motion-mode-after-cycle"), nullptr);
  EXPECT_EQ(find(p, "motion-mode-missing"), nullptr);
  EXPECT_TRUE(p.read_whole);
}

TEST(Motion, g80_beside_g0_on_the_first_line_is_no_conflict) {
  for (const char* first : {"G0 G17 G21 G40 G49 G80 G90", "G80 G17 G21 G90 G0"}) {
    const Program p = interpret(std::string(first) + "\nX1 Y1 Z1\nM2");
    EXPECT_TRUE(p.problems.empty());
    EXPECT_EQ(p.motions.size(), 1u);
  }
}

TEST(ModalUse, what_was_relied_upon_is_known) {
  const Program p = interpret("G0 X1\nG21 G90 G17\nG2 X3 I1 F10\nM2");
  EXPECT_TRUE(p.modal.units_used);
  EXPECT_TRUE(p.modal.distance_used);
  EXPECT_FALSE(p.modal.plane_used);
  EXPECT_EQ(p.modal.first_use.line, 1u);
}

TEST(ModalUse, a_way_home_rests_on_no_mode) {
  const Program p = interpret("G28\nG53 G0 Z0\nG21 G90 G17 G0 X1 Y1\nM2");
  EXPECT_FALSE(p.modal.units_used);
  EXPECT_FALSE(p.modal.distance_used);
  // By way of a point it does.
  EXPECT_TRUE(interpret("G28 X10 Y10 Z10\nG21 G90 G17 G0 X1 Y1\nM2").modal.distance_used);
}

TEST(ModalUse, increments_anywhere_are_known) {
  EXPECT_FALSE(interpret("G21 G90 G0 X1\nM2").modal.ever_incremental);
  EXPECT_TRUE(interpret("G21 G90 G0 X1\nG91 X1\nG90 X3\nM2").modal.ever_incremental);
  EXPECT_FALSE(interpret("G21 G91 G28 Z0\nG90 G0 X1\nG91 X1\nM2").modal.first_incremental);
  EXPECT_TRUE(interpret("G21 G91 G0 X1\nG90 X3\nM2").modal.first_incremental);
}

TEST(End, lines_after_the_end_are_not_run_and_that_is_said) {
  const Program p = interpret("G21 G90 G0 X1\nM30\nG0 X2\n");
  EXPECT_EQ(p.motions.size(), 1u);
  ASSERT_NE(find(p, "text-after-end"), nullptr);
  EXPECT_EQ(find(p, "text-after-end")->place.line, 3u);
}

TEST(End, a_program_without_an_end_is_noted_unless_framed) {
  EXPECT_NE(find(interpret("G21 G90 G0 X1\n"), "end-missing"), nullptr);
  EXPECT_TRUE(interpret("%\nG21 G90 G0 X1\n%\n").problems.empty());
  EXPECT_NE(find(interpret("%\nG21 G90 G0 X1\nM2\n"), "percent-unpaired"), nullptr);
}

TEST(End, the_second_percent_may_stand_behind_subprograms_or_lines_that_are_not_run) {
  for (const char* behind : {"O0100\nG0 X2\nM99\n", "G0 X2\nG0 X3\n"}) {
    const std::string text = std::string("%\nG21 G90 G0 X1\nM30\n") + behind;
    EXPECT_EQ(find(interpret(text + "%\n"), "percent-unpaired"), nullptr) << behind;
    EXPECT_EQ(find(interpret(text + " %\n"), "percent-unpaired"), nullptr) << behind;
    EXPECT_NE(find(interpret(text), "percent-unpaired"), nullptr) << behind;
  }
}

TEST(BlockDelete, a_slash_line_is_left_out_only_when_asked) {
  const char* text = "G21 G90 G0 X1\n/ G0 X2\nM2";
  EXPECT_EQ(interpret(text).motions.size(), 2u);
  EXPECT_EQ(interpret(text, {.block_delete = true}).motions.size(), 1u);
}

TEST(BlockDelete, a_program_with_slash_lines_says_which_reading_it_is) {
  const std::string text = "G21 G90 G17 G0 X1\n/G0 X2\n/X3\nM2";
  for (const bool on : {false, true}) {
    const Program p = interpret(text, {.block_delete = on});
    ASSERT_THAT(idsOf(p), testing::ElementsAre("block-delete"));
    EXPECT_EQ(p.problems[0].place, (Place{2, 1, 7}));
    EXPECT_EQ(p.problems[0].kind, on ? ProblemKind::block_delete_skipped : ProblemKind::block_delete_run);
    EXPECT_TRUE(p.read_whole);
  }
  // Nothing is skipped where nothing stands behind it.
  EXPECT_TRUE(interpret("G21 G90 G17 G0 X1\n/\n/N5\n/(comment)\nM2").problems.empty());
}

// NISTIR 6556 2.2.2 and A.1: a skipped line is read all the same. D.8.4: it changes no parameter.
TEST(BlockDelete, what_is_skipped_must_still_be_readable) {
  const Program p = interpret("G21 G90 G17 G0 X1\n/#1=5 X1.2.3\nG0 X#1\nM2", {.block_delete = true});
  EXPECT_THAT(idsOf(p), testing::ElementsAre("block-delete", "syntax", "parameter-unset"));
  ASSERT_FALSE(p.motions.empty());
  EXPECT_EQ(p.motions.back().end.x, 0);
  EXPECT_THAT(idsOf(strictly("G21 G90 G17 G0 X1\n/G0 X2 ; comment\nM2", {.block_delete = true})),
              testing::ElementsAre("block-delete", "syntax"));
}

}  // namespace
}  // namespace provecut
