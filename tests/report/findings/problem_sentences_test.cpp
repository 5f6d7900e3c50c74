#include "report/findings/problem_sentences.h"

#include <gtest/gtest.h>

#include <cctype>
#include <iterator>
#include <set>
#include <string>
#include <vector>

#include "parser/interpreter/interpreter.h"
#include "parser/program/problem_ids.h"

namespace provecut {
namespace {

Problem of(ProblemKind kind, std::vector<Fact> facts) {
  return {kind, idOf(kind, false), {1, 1, 2}, std::move(facts), {}};
}

// As many facts as any sentence takes.
Problem withFacts(ProblemKind kind) {
  return of(kind, {fact::Text{"X1"}, fact::Text{"X2"}, fact::Text{"X3"}, fact::Text{"X4"}});
}

std::string onlyText(const std::string& program, InterpreterOptions options = {}) {
  const Program p = interpret(program, options);
  EXPECT_EQ(p.problems.size(), 1u) << program;
  return p.problems.empty() ? "" : problemText(p.problems[0], Job{});
}

TEST(ProblemSentences, every_kind_is_a_clause_and_its_help_whole_sentences) {
  for (const ProblemIds& ids : problem_ids) {
    const ProblemSentence s = sentenceOf(withFacts(ids.kind), Job{});
    ASSERT_FALSE(s.message.empty()) << ids.usual;
    EXPECT_NE(s.message.back(), '.') << s.message;
    // A capital is a code's or a letter's own, never a word's.
    const bool word = s.message.size() > 1 && std::islower(static_cast<unsigned char>(s.message[1])) != 0;
    EXPECT_FALSE(word && std::isupper(static_cast<unsigned char>(s.message[0])) != 0) << s.message;
    if (!s.assumed.empty()) {
      EXPECT_NE(s.assumed.back(), '.') << s.assumed;
    }
    if (ids.kind == ProblemKind::more_of_the_same) continue;
    ASSERT_FALSE(s.help.empty()) << s.message;
    EXPECT_TRUE(s.help.back() == '.' || s.help.back() == '?') << s.help;
    EXPECT_TRUE(std::isupper(static_cast<unsigned char>(s.help[0])) != 0) << s.help;
  }
}

TEST(ProblemSentences, a_comma_for_a_point_is_asked_about) {
  EXPECT_EQ(onlyText("G21 G90 G17 G0 X1\nX9,0059\nM2"),
            "\"X9,0059\" is not a number (comma for a point?); skipped, the rest of the line was read");
}

TEST(ProblemSentences, a_cut_without_a_feed_names_what_is_unknown) {
  EXPECT_EQ(onlyText("G21 G90 G17 G0 X1 Y1 Z1\nG1 X5\nM2"),
            "cutting move with no feed rate set; the path was checked, its time is unknown");
}

TEST(ProblemSentences, an_unknown_code_is_called_by_its_name) {
  EXPECT_EQ(onlyText("G21 G90 G17 G0 X1\nG413\nM2"), "G413 is not a known code; skipped; what it does was not checked");
}

TEST(ProblemSentences, lengths_are_in_the_jobs_unit) {
  const Problem arc = of(ProblemKind::arc_radii_differ, {fact::Length{10}, fact::Length{10.16}});
  Job job;
  EXPECT_EQ(sentenceOf(arc, job).message, "the arc's radius is 10 mm at its start but 10.16 mm at its end");
  job.inches = true;
  EXPECT_EQ(sentenceOf(arc, job).message, "the arc's radius is 0.3937 in at its start but 0.4 in at its end");
}

TEST(ProblemSentences, a_tool_word_of_four_digits_says_how_it_was_read) {
  EXPECT_EQ(onlyText("G21 G90 G17\nT0101 M6\nG0 X1 Y1 Z1\nM2"),
            "\"T0101\" may be tool 1 with offset 1; read as tool 101; machines differ");
  EXPECT_EQ(onlyText("G21 G90 G17\nT0101 M6\nG0 X1 Y1 Z1\nM2", {.tool_diameter_mm = {{1, 6}}}),
            "\"T0101\" may be tool 1 with offset 1; read so, as there is a tool 1 here and no tool 101; some machines "
            "read tool 101");
}

TEST(ProblemSentences, a_tool_goes_by_its_name_and_counts_are_grouped) {
  Job job;
  job.tools.push_back({});
  job.tools[0].number = 3;
  job.tools[0].name = "6 mm flat";
  EXPECT_EQ(sentenceOf(of(ProblemKind::feed_from_other_tool, {fact::Tool{3}}), job).message,
            "6 mm flat cuts at the feed set for the tool before it");
  EXPECT_EQ(sentenceOf(of(ProblemKind::too_many_moves, {fact::Count{20'000'000}}), job).message,
            "the program makes more than 20,000,000 moves");
}

TEST(ProblemSentences, axes_are_listed) {
  EXPECT_EQ(
      onlyText("G21 G90 G17 F100 G0 Z5\nG1 Z-5\nM2"),
      "cutting move from an unknown position in X and Y; taken to be the last known one (at the start X0 Y0 with Z "
      "fully up)");
}

TEST(ProblemSentences, a_letter_o_is_taken_for_a_zero_and_no_other_letter_is) {
  EXPECT_EQ(onlyText("G21 G90 G17 G0 Z5 X5O\nM2").substr(0, 46), "\"O\" is out of place (letter O for a zero?); sk");
  Job job;
  EXPECT_EQ(sentenceOf(of(ProblemKind::unknown_letter, {fact::Text{"V1"}}), job).message,
            "\"V1\" is not G-code: no word starts with this letter");
}

TEST(ProblemSentences, what_is_not_followed_is_not_called_a_fault_of_the_program) {
  EXPECT_EQ(onlyText("G21 G90 G17 G0 X1 Y1 Z1\nG68 R30\nM2"),
            "provecut does not follow G68; skipped; the check is not complete");
  EXPECT_EQ(onlyText("G21 G90 G17 G0 X1 Y1 Z1\nIF [#1 GT 5] GOTO 20\nM2"),
            "provecut does not follow \"IF [#1 GT 5] GOTO 20\"; skipped; the check is not complete");
  EXPECT_EQ(
      onlyText("G21 G90 G17 F60 G0 X1 Y1 Z1\nG13 Z-1 I5\nM2"),
      "provecut does not follow G13: its path between its start and its end was not checked; taken as a straight feed "
      "to the place on its line");
}

TEST(ProblemSentences, without_a_job_file_none_is_spoken_of_as_if_it_were_there) {
  Job job;
  const Problem move = of(ProblemKind::machine_move_in_z, {fact::Length{-40}}),
                tool = of(ProblemKind::compensation_diameter_unknown, {});
  EXPECT_EQ(sentenceOf(move, job).help,
            "Check by hand that the way is clear. Or write a job file with zero_in_machine.");
  EXPECT_EQ(sentenceOf(of(ProblemKind::compensation_diameter_unknown, {fact::Tool{2}}), job).help,
            "Give the tool with --tool.");
  job.file = "job.toml";
  EXPECT_EQ(sentenceOf(move, job).help,
            "Give zero_in_machine for this setup in the job file, or check by hand that the way is clear.");
  EXPECT_EQ(sentenceOf(of(ProblemKind::work_offset_unknown, {fact::Code{"G55"}}), job).help,
            "Give G55 under [setup.offsets] in the job file.");
}

// Programs with one mistake each, or a few; together with the lines they have nearly every kind.
const char* const wrong_programs[] = {"",
                                      "G0 X1",
                                      "%\nG21 G90 G0 X1 Y1 Z1\nM2",
                                      "G21 G90 G0 X1\n%",
                                      "G21 G90 G0 X1\nM2\x1A",
                                      "G21 G90 G0 X1\nM2\nG0 X2",
                                      "G21 G91 G0 X1\nG90 X1\nG91",
                                      "%text\nG0 X1\n%",
                                      "G21 G90 G17 G0 Z5\nF100 G1 Z-1",
                                      "G21 G17 G90 G0 X0 Y0 Z0\nG1 X5\nM2",
                                      "G21 G17 G90 F0 G0 X0 Y0 Z0\nG1 X5\nM2",
                                      "G21 G17 G90 G95 F1 G0 X0 Y0 Z0\nG1 X5\nM2",
                                      "G21 G90 F100 G0 X0 Y0 Z0\nT1\nG1 X5\nT2\nG1 X6\nM2",
                                      "G92 X0\nG0 X1\nM2",
                                      "G90 X1\nM2",
                                      "O1 call\nM2",
                                      "O1 if\nO1 endif\nM2",
                                      "O1 if [0]\nM2",
                                      "O1 sub\nO1 endsub\nM2",
                                      "O1 return\nM2",
                                      "O1 endwhile\nM2",
                                      "O1 break\nM2",
                                      "O1 do\nG0 X1\nO1 while [1]\nM2",
                                      "O1 do\nG0 X1",
                                      "O1\nM98 P1\nM99\nM2",
                                      "G0 X1\nM99",
                                      "#5220=12\nM2"};

// Lines with a mistake, for the middle of a program.
const char* const wrong_lines[] = {
    "G1 X1 E2",
    "G1 X",
    "X1.2.3",
    "X1,5",
    "X[1*]",
    "X asim[1]",
    "X atan[1]",
    "?",
    "X1)",
    "G0 X1 /",
    "#1",
    "N X1",
    "\x01 X1",
    "(open",
    "(a (b)",
    "X1e-2",
    "X1 2",
    "X-[1]",
    ":X1",
    "N123456 G0 X1",
    "G0 X1 N5",
    "G0 X1*7",
    "G70",
    "G71",
    "/G0 X1",
    "A5",
    "G13",
    "M45",
    "G0 X1 P2",
    "X1 X2",
    "X1000001",
    "G3 X10 I5 P1.5",
    "F-1",
    "S-1",
    "G4 P-1",
    "G4",
    "G64 P-1",
    "G0 G1 X1",
    "M0 M3 M6 M7 M48",
    "T-1",
    "G43",
    "G43 H1.5",
    "G43 H7",
    "G1",
    "G38.2",
    "G81",
    "G2",
    "G53",
    "G0 G92 X1",
    "G80\nX1",
    "G81 X1 Z-1 R1\nG80\nX2",
    "X#0",
    "X[1/0]",
    "X sqrt[-1]",
    "X ln[0]",
    "X acos[2]",
    "X[[-1]**0.5]",
    "X[9999**9999]",
    "X#7",
    "G93 G1 X1",
    "G91 G28 Z0\nG91 G1 X1",
    "G1 X1\nX1",
    "G3 X10 Y0.5 I5",
    "G91.1 G3 X39.9 Y40.883 I40.599 J40.599",
    "G90.1 G3 X5 Y5 I5 J0.1",
    "G2 X20 R5",
    "G2 X5 R0",
    "G2 X5 I0 J0",
    "G2 X5",
    "G2 X0 Y0 R5",
    "G2 X20 R10 I10",
    "G2 X0.1 R-1",
    "G2 I5",
    "G38.2 Z0",
    "G38.2 X5",
    "G93 G38.2 X5 F1",
    "G38.2 X5 A1",
    "G38.2 X0.1",
    "G81 X1 R1",
    "G81 X1 Z-1",
    "G81 X1 Z-1 R-2",
    "G81 X1 Z-1 R1 L0",
    "G81 X1 Z-1 R1 L1.5",
    "G81 X1 Z-1 R1 L200000",
    "G82 X1 Z-1 R1 P-1",
    "G82 X1 Z-1 R1",
    "G83 X1 Z-1 R1",
    "G83 X1 Z-1 R1 Q0.00001",
    "G93 G81 X1 Z-1 R1 F1",
    "G81 X1 Z-1 R1 A5",
    "G84 X1 Z-1 R1",
    "G86 X1 Z-1 R1 P1",
    "G55",
    "G10 L3",
    "G10 L2",
    "G92",
    "G28 Z0",
    "G91 G28 G0.0",
    "G13 Z-1 I5",
    "G76 X5 Z-1",
    "G68 X1 Y1 R30",
    "T0101 M6",
    "T0202 M6",
    "G28 X0",
    "G28",
    "G80\nG53 X1",
    "G41 D1\nG1 X10\nX11\nY1\nX9",
    "G41 D1\nG1 X1",
    "G41 D1\nG1 X10\nX11\nG3 X12 Y1 J1",
    "G41 D1\nG2 X20 Y0 I10",
    "G41 D1\nG1 X10\nG2 X10 I0 J0",
    "G41 D1\nG81 X1 Z-1 R1",
    "G41 D1\nG38.2 X5",
    "G18\nG41 D1",
    "G41 D1.5",
    "G41 D1\nG1 X10\nG42 D1",
    "G41 D1\nG41 D1",
    "G41 D1\nG20",
    "G41 D9",
    "M98",
    "M98 P1",
    "M98 P1 L1.5",
    "G1 X1 Y0 (a line that is long) (------------------------------------------------------------------------------"
    "------------------------------------------------------------------------------------------------------------"
    "------------------------------------------------------------------------------------------------------------"
    ")"};

std::vector<std::string> mistakes() {
  const std::string start = "G21 G90 G17 G94 F100\nT1 M6\nG0 X0 Y0 Z5\n", end = "\nG40 G94\nM2\n";
  std::vector<std::string> programs(std::begin(wrong_programs), std::end(wrong_programs));
  for (const char* line : wrong_lines) programs.push_back(start + line + end);
  return programs;
}

TEST(ProblemSentences, each_kind_comes_with_the_facts_that_its_sentence_takes) {
  std::set<ProblemKind> kinds;
  for (const std::string& text : mistakes()) {
    for (const bool strict : {false, true}) {
      const InterpreterOptions options{
          .strict = strict, .tool_diameter_mm = {{1, 6}}, .max_motions = 1000, .max_repeated_lines = 500};
      for (const Problem& p : interpret(text, options).problems) {
        EXPECT_NO_THROW(problemText(p, Job{})) << text;
        kinds.insert(p.kind);
      }
    }
  }
  std::string missing;
  for (const ProblemIds& ids : problem_ids) {
    if (!kinds.contains(ids.kind))
      missing += std::to_string(static_cast<int>(ids.kind)) + " (" + std::string(ids.usual) + ") ";
  }
  EXPECT_GT(kinds.size(), 130u) << "not met: " << missing;
}

// Whatever a program holds in braces is text, no place for a fact.
TEST(ProblemSentences, braces_in_a_program_stay_as_they_are) {
  EXPECT_EQ(onlyText("G21 G90 G17 G0 X1\nX{0}\nM2"),
            "\"X{0}\" is a letter without a number; skipped, the rest of the line was read");
}

}  // namespace
}  // namespace provecut
