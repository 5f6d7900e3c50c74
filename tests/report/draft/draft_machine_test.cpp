// What a first job file says of spindle, work offsets and programs that cut more than one side.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "parser/job_file/job_file.h"
#include "tests/report/draft/survey_of.h"

namespace provecut {
namespace draft_machine_test {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

std::string cutWith(const std::string& spindle, const std::string& tool = "T1 M6\n") {
  return "G21 G90\n" + tool + spindle + "G0 X10 Y10 Z5\nG1 Z-4 F300\nX90\nG0 Z5\n";
}

TEST(DraftSpindle, that_no_program_starts_is_taken_for_one_that_you_switch) {
  const std::string text = draftTextOf(cutWith(""));
  EXPECT_THAT(text, AllOf(HasSubstr("\nspindle = \"by-hand\""), HasSubstr("no program has M3"),
                          HasSubstr("unconfirmed = [\"profile\", \"spindle\"]")));
  EXPECT_THAT(text, HasSubstr("\n# rpm = 16000"));
  EXPECT_TRUE(readJob(text, "job.toml").job->machine.spindle_by_hand);
}

TEST(DraftSpindle, that_no_program_gives_a_speed_is_taken_for_one_with_a_dial) {
  const std::string text = draftTextOf(cutWith("M3\n"));
  EXPECT_THAT(text,
              AllOf(HasSubstr("\nspeed = \"by-hand\""), HasSubstr("no program has S"), Not(HasSubstr("\nspindle ="))));
}

// With a dial the S of an exporter does nothing: that is for its owner to know.
TEST(DraftSpindle, that_the_programs_run_is_only_offered_by_hand) {
  const std::string text = draftTextOf(cutWith("M3 S12000\n"));
  EXPECT_THAT(text, AllOf(HasSubstr("\n# spindle = \"by-hand\""), HasSubstr("\n# speed = \"by-hand\"")));
  EXPECT_THAT(text, HasSubstr("\n# rpm = 12000"));
  const Job job = readJob(text, "job.toml").job.value_or(Job{});
  EXPECT_FALSE(job.machine.dialled());
}

// One program that forgot M3 is a mistake, and stays one.
TEST(DraftSpindle, that_one_of_two_programs_starts_is_not_taken_for_one_that_you_switch) {
  EXPECT_FALSE(surveyOf({{"a.nc", cutWith("M3 S9000\n")}, {"b.nc", cutWith("")}}).programs[1].starts_spindle);
  EXPECT_THAT(draftTextOf({{"a.nc", cutWith("M3 S9000\n")}, {"b.nc", cutWith("")}}), Not(HasSubstr("\nspindle =")));
}

// A sheet of 1.2 m does not fit on a bench machine: its travel would be a stop that means nothing.
TEST(DraftMachine, is_one_whose_travel_the_cuts_fit_in) {
  EXPECT_THAT(draftTextOf("G21 G90 T1 M6\nM3 S9000\nG0 X20 Y20 Z5\nG1 Z-4 F300\nX1200\nY900\nG0 Z5\n"),
              HasSubstr("\nprofile = \"shop-rack\" "));
  EXPECT_THAT(draftTextOf(cutWith("M3 S9000\n")), HasSubstr("\nprofile = \"bench-screw\" "));
}

TEST(DraftOffsets, that_programs_use_are_to_be_filled_in) {
  const std::string text = draftTextOf("G55\n" + cutWith("M3 S9000\n"));
  EXPECT_THAT(text, AllOf(HasSubstr("\noffsets = { G55 = [0, 0, 0] }"), HasSubstr("\"hold_downs\", \"offsets\"]")));
  const JobReading reading = readJob(text, "job.toml");
  ASSERT_TRUE(reading.job);
  EXPECT_EQ(reading.job->setups.at(0).work_offset_mm.size(), 1U);
  EXPECT_TRUE(readJob(draftTextOf("G59.1\n" + cutWith("M3 S9000\n")), "job.toml").job);
  EXPECT_THAT(draftTextOf("G54\n" + cutWith("M3 S9000\n")), Not(HasSubstr("\noffsets")));
  // It says itself where G55 is.
  EXPECT_THAT(draftTextOf("G10 L2 P1 X0 Y0 Z0\nG10 L2 P2 X5 Y0 Z0\nG55\n" + cutWith("M3 S9000\n")),
              Not(HasSubstr("\noffsets")));
}

constexpr std::string_view first_op =
    "(OP 1, G54 BACK-LEFT-TOP)\nG21 G90 T1 M6\nM3 S9000\nG0 X10 Y-10 Z5\nG1 Z-4 F300\nX90\nG0 Z5\n";
constexpr std::string_view next_op = "G0 X10 Y10\nG1 Z-4\nX90\nG0 Z5\nM30\n";

std::string withStop(const std::string& stop) {
  return std::string(first_op) + stop + std::string(next_op);
}

// Line 8 is the stop.
TEST(DraftProgram, that_names_another_zero_after_a_stop_is_to_be_split_there) {
  EXPECT_THAT(draftTextOf(withStop("M0\n(G54 FRONT-LEFT-TOP)\n")),
              HasSubstr("# SPLIT IT at line 8, where it stops. The comment there says: G54 FRONT-LEFT-TOP"));
}

TEST(DraftProgram, that_turns_to_another_operation_or_side_after_a_stop_is_to_be_split_there) {
  for (const char* said : {"(OP 2)", "(Operation #2)", "(FACE BOTTOM)", "(flip the part)", "(turn the stock over)",
                           "(now the other side)", "(side 2)"}) {
    EXPECT_THAT(draftTextOf(withStop("M0\n" + std::string(said) + "\n")), HasSubstr("# SPLIT IT at line 8")) << said;
  }
}

TEST(DraftProgram, that_stops_for_another_tool_or_speaks_of_one_zero_twice_stays_whole) {
  for (const char* stop : {"M0\n(T2 D=3 end mill)\nT2 M6\n", "M0\n(G54 BACK-LEFT-TOP)\n", "M1\n(OP 1)\n",
                           "M0\n(bottom of the pocket)\n", "(OP 2)\n"}) {
    EXPECT_THAT(draftTextOf(withStop(stop)), Not(HasSubstr("SPLIT IT"))) << stop;
  }
  // Before anything is cut there is nothing to split from.
  EXPECT_THAT(draftTextOf("M0\n(OP 2)\n" + std::string(first_op)), Not(HasSubstr("SPLIT IT")));
}

TEST(DraftTool, that_is_called_with_its_offset_is_described_by_the_comment_for_its_number) {
  const std::string text = draftTextOf("(T1 D=5 flat end mill)\n" + cutWith("M3 S9000\n", "T0101 M6\n"));
  EXPECT_THAT(text, AllOf(HasSubstr("number = 101\n"), HasSubstr("\ndiameter = 5\n"),
                          HasSubstr("T0101, it means tool 1 with offset 1")));
  EXPECT_THAT(draftTextOf(cutWith("M3 S9000\n", "T102 M6\n")), Not(HasSubstr("with offset")));
}

// Two programs that name no tool, one for a mill and one for a vee of the same diameter.
TEST(DraftTool, of_one_program_is_not_that_of_another_kind_in_the_next) {
  const std::string cut = "G21 G90\nM3 S9000\nG0 X10 Y10 Z5\nG1 Z-1 F300\nX90\nG0 Z5\n";
  const draft::Survey two =
      surveyOf({{"a.nc", "(Tool = Endmill 3.175mm)\n" + cut}, {"b.nc", "(Tool = V-bit 3.175mm)\n" + cut}});
  EXPECT_EQ(two.tools.size(), 2U);
  const draft::Survey same =
      surveyOf({{"a.nc", "(Tool = Endmill 3.175mm)\n" + cut}, {"b.nc", "(Tool = Endmill 3.175mm)\n" + cut}});
  EXPECT_EQ(same.tools.size(), 1U);
}

// What follows engraves.
TEST(DraftTool, is_no_drill_because_a_comment_counts_drills) {
  const std::string text = draftTextOf("(This file uses 6 drill bit sizes.)\n" + cutWith("M3 S9000\n", ""));
  EXPECT_THAT(text, AllOf(HasSubstr("shape = \"flat\" "), HasSubstr("unconfirmed = [\"shape\", \"diameter\"")));
}

// Zero on the spoilboard: the outline goes to Z -0.2 from a top at 18.5.
TEST(DraftTool, has_flutes_that_reach_down_from_the_top_where_zero_is_the_underside) {
  const draft::Survey survey = surveyOf(
      "(T1 D=6 flat end mill)\nG21 G90\nT1 M6\nM3 S9000\nG0 X10 Y10 Z30\nG1 Z18.5 F300\nX90\nY90\nX10\nZ-0.2\nX90\nG0 "
      "Z30\n");
  ASSERT_TRUE(survey.setups.at(0).zero_on_bottom);
  EXPECT_GE(survey.tools.at(1).long_enough_mm, 18.7);
}

// A face mill that runs at Z0 takes nothing off stock whose top is Z0; the program calls it all the same.
TEST(DraftTool, that_faces_at_zero_is_in_the_file) {
  const std::string text =
      draftTextOf("(T9 D=40 face mill)\nG21 G90\nT9 M6\nM3 S5000\nG0 X-30 Y10 Z5\nG1 Z0 F300\nX130\nG0 Z5\n" +
                  cutWith("M3 S9000\n"));
  EXPECT_THAT(text, AllOf(HasSubstr("\nnumber = 9\n"), HasSubstr("\nnumber = 1\n"), HasSubstr("\ntool = 9 ")));
}

TEST(DraftTool, that_a_program_without_cuts_calls_is_in_the_file) {
  EXPECT_THAT(draftTextOf("G20\nT3 M6\nG0 X0 Y0\nX___\nT10 M6\n"),
              AllOf(HasSubstr("\nnumber = 3\n"), HasSubstr("\nnumber = 10\n")));
}

// Nobody has a bit of 0.03 mm.
TEST(DraftProgram, whose_tool_only_fits_inches_is_to_say_so) {
  EXPECT_THAT(draftTextOf("(mill head of 0.03125)\nG90 T1 M6\nM3 S9000\nG0 X1 Y1 Z0.1\nG1 Z-0.06 F5\nX2\n"),
              HasSubstr("put G20 on its first line"));
}

TEST(DraftProgram, that_counts_from_wherever_the_tool_stands_says_so) {
  const std::string text = draftTextOf("G21 G91\nT1 M6\nM3 S9000\nG0 X20 Y35\nG1 Z-6 F100\nX10\nZ6\n");
  EXPECT_THAT(text, AllOf(HasSubstr("count from wherever the tool stands"), HasSubstr(", 6]"), HasSubstr("\"top\"]")));
  EXPECT_THAT(draftTextOf("G21 G90\nT1 M6\nM3 S9000\nG0 X20 Y35 Z5\nG91\nG1 Z-9 F100\nX10\nZ9\n"),
              Not(HasSubstr("wherever the tool stands")));
}

}  // namespace draft_machine_test
}  // namespace provecut
