// The command line: what is asked for, refused, explained.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "report/base/length_text.h"
#include "report/rules/rule.h"
#include "tests/report/running.h"

namespace provecut::testing {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;
using ::testing::StartsWith;

Ran run(const std::vector<std::string>& words) {
  const TempFolder folder;
  return runProvecut(folder, words);
}

void expectRefused(const std::vector<std::string>& words, const std::string& says) {
  const Ran r = run(words);
  EXPECT_EQ(r.status, 2) << r.out << r.err;
  EXPECT_THAT(r.err, HasSubstr(says));
  EXPECT_THAT(r.out, IsEmpty());
}

TEST(CommandLine, help_and_version_give_0_on_standard_output) {
  for (const std::vector<std::string>& words : {std::vector<std::string>{"--help"},
                                                {"-h"},
                                                {"check", "--help"},
                                                {"explain", "--help"},
                                                {"export", "--help"},
                                                {"init", "--help"}}) {
    const Ran r = run(words);
    EXPECT_EQ(r.status, 0) << words.front();
    EXPECT_THAT(r.out, HasSubstr("provecut"));
    EXPECT_THAT(r.err, IsEmpty());
  }
  const Ran version = run({"--version"});
  EXPECT_EQ(version.status, 0);
  EXPECT_THAT(version.out, ::testing::MatchesRegex("provecut [0-9]+\\.[0-9]+\\.[0-9]+\n"));
}

TEST(CommandLine, that_cannot_be_used_gives_2) {
  expectRefused({}, "provecut");
  expectRefused({"chek", "job.toml"}, "did you mean check?");
  expectRefused({"job.toml"}, "provecut check job.toml");
  expectRefused({"check"}, "check needs a job file");
  expectRefused({"check", "job.toml", "--cel", "1"}, "did you mean --cell?");
  expectRefused({"check", "job.toml", "--format"}, "--format needs a value");
  expectRefused({"check", "job.toml", "--format", "pdf"}, "give text, json, sarif or html");
  expectRefused({"time", "job.toml", "--format", "sarif"}, "give text or json");
  expectRefused({"quote", "job.toml", "--format", "text|json"}, "give text, json or html");
  expectRefused({"check", "job.toml", "--fail-on", "always"}, "stop, look, note or never");
  expectRefused({"check", "job.toml", "--units", "cm"}, "mm or in");
  expectRefused({"check", "job.toml", "--threads", "two"}, "--threads \"two\": give a whole number from 0 to 1024");
  expectRefused({"check", "job.toml", "--threads", "-1"}, "--threads \"-1\": give a whole number from 0 to 1024");
  expectRefused({"check", "a.toml", "b.toml", "--format", "sarif"}, "--format sarif takes one job file");
  expectRefused({"check", "a.toml", "b.nc"}, "not both");
  expectRefused({"check", "job.toml", "--stock", "1x1x1mm"}, "leave out --stock and --tool");
  expectRefused({"explain", "a", "b"}, "unexpected argument \"b\"");
  expectRefused({"export"}, "--moves");
}

TEST(CommandLine, a_cell_has_a_size_within_reason) {
  for (const char* size : {"0", "-1", "nan", "inf", "1e9", "0.25cm", "", "x", "1e-3"}) {
    expectRefused({"check", "job.toml", "--cell", size}, "--cell");
  }
}

TEST(CommandLine, options_that_do_not_go_together_are_refused) {
  expectRefused({"place", "job.toml", "--diameter", "9mm", "--size", "60x20", "--top", "3"},
                "give --diameter or --size, not both");
  expectRefused({"place", "job.toml", "--angle", "30"}, "--angle needs --size");
  expectRefused({"place", "job.toml", "--diameter", "9mm"}, "--diameter needs --top");
  expectRefused({"check", "job.toml", "--verbose", "--quiet"}, "give --quiet or --verbose, not both");
  expectRefused({"export", "job.toml", "--stl", "--ply"}, "choose --stl or --ply");
  expectRefused({"export", "--moves", "a.nc", "--engagement", "job.toml"}, "give --moves or --engagement, not both");
  expectRefused({"export", "job.toml", "--moves", "a.nc"}, "leave out job.toml");
}

TEST(CommandLine, a_length_may_have_a_unit_and_be_a_fraction) {
  EXPECT_DOUBLE_EQ(readLength("3/8in")->mm(1), 9.525);
  EXPECT_EQ(readLength("9.5")->mm(25.4), 9.5 * 25.4);
  EXPECT_FALSE(readLength("9.5cm"));
  EXPECT_FALSE(readLength("1/0mm"));
  const auto box = lengthsOf("60x20mm");
  ASSERT_TRUE(box && box->size() == 2);
  EXPECT_EQ(box->front().mm(25.4), 60);
}

TEST(CommandLine, nothing_typed_can_reach_the_terminal_unseen) {
  expectRefused({"check", "job.toml", "--units", "\x1b[2J"}, "\\x1B[2J");
  expectRefused({"\x1b[2J"}, "\\x1B[2J");
}

TEST(Explain, without_a_rule_lists_them_all) {
  const Ran r = run({"explain"});
  EXPECT_EQ(r.status, 0);
  for (const Rule* rule : allRules()) EXPECT_THAT(r.out, HasSubstr(std::string(rule->id) + " "));
}

TEST(Explain, knows_each_rule) {
  for (const Rule* rule : allRules()) {
    const Ran r = run({"explain", std::string(rule->id)});
    EXPECT_EQ(r.status, 0) << rule->id;
    EXPECT_THAT(r.out, AllOf(StartsWith(std::string(rule->id)), HasSubstr("What it finds"), HasSubstr("What to do")))
        << rule->id;
  }
}

// Some examples end in code, and what follows them begins like any other.
TEST(Explain, sets_the_text_right_below_its_heading) {
  for (const Rule* rule : allRules())
    EXPECT_THAT(run({"explain", std::string(rule->id)}).out, Not(HasSubstr("What to do\n\n"))) << rule->id;
}

TEST(Explain, names_the_nearest_rule_if_one_is_near) {
  expectRefused({"explain", "hold-down-hits"}, "did you mean hold-down-hit?");
  expectRefused({"explain", "foo"}, "no rule \"foo\". Run provecut explain for the list.");
}

TEST(CommandLine, a_program_in_place_of_a_job_file_is_answered_with_the_way_to_one) {
  const TempFolder folder;
  folder.write("a.nc", "G21 G90\nG0 X1\nM30\n");
  for (const std::vector<std::string>& words : {std::vector<std::string>{"place", "a.nc"},
                                                {"resume", "a.nc"},
                                                {"sheet", "a.nc"},
                                                {"quote", "a.nc"},
                                                {"export", "a.nc", "--stl"},
                                                {"export", "--engagement", "a.nc"}}) {
    const Ran r = runProvecut(folder, words);
    EXPECT_EQ(r.status, 2) << words.front();
    EXPECT_THAT(r.err, HasSubstr("provecut init a.nc --output job.toml")) << words.front();
    EXPECT_THAT(r.out, IsEmpty());
  }
}

TEST(CommandLine, a_job_file_in_place_of_a_program_is_refused) {
  const TempFolder folder;
  folder.write("job.toml", smallJob({"a.nc"}));
  const Ran init = runProvecut(folder, {"init", "job.toml"});
  EXPECT_EQ(init.status, 2);
  EXPECT_THAT(init.err, HasSubstr("job.toml is a job file; init needs programs"));
  EXPECT_THAT(init.out, IsEmpty());
  const Ran moves = runProvecut(folder, {"export", "--moves", "job.toml"});
  EXPECT_EQ(moves.status, 2);
  EXPECT_THAT(moves.err, HasSubstr("job.toml is a job file; --moves needs a program"));
}

TEST(CommandLine, an_output_in_a_folder_that_is_not_there_names_the_folder) {
  const TempFolder folder;
  folder.write("a.nc", "G21 G90\nG0 X1\nM30\n");
  const Ran r = runProvecut(folder, {"export", "--moves", "a.nc", "--output", "nowhere/moves.csv"});
  EXPECT_EQ(r.status, 2);
  EXPECT_THAT(r.err, HasSubstr("cannot write nowhere/moves.csv: there is no folder nowhere"));
}

// The words of the library behind the command line are not ours.
TEST(CommandLine, help_names_the_whole_command_and_says_relations_in_words) {
  const std::string help = run({"place", "--help"}).out;
  EXPECT_THAT(help, AllOf(HasSubstr("Usage: provecut place [OPTIONS] FILE"), HasSubstr("Arguments:"),
                          HasSubstr("(with --top, not with --diameter)")));
  EXPECT_THAT(run({"explain", "--help"}).out, HasSubstr("Usage: provecut explain [OPTIONS] [RULE]"));
  EXPECT_THAT(run({"export", "--help"}).out, HasSubstr("Usage: provecut export [OPTIONS] [JOB]"));
  for (const char* foreign : {"Positionals", "Excludes", "Needs:", "REQUIRED", "Subcommands"})
    EXPECT_THAT(help + run({"--help"}).out + run({"completions", "--help"}).out, Not(HasSubstr(foreign)));
}

TEST(CommandLine, only_check_has_a_status_for_findings) {
  for (const char* command : {"time", "quote", "place", "export", "explain"})
    EXPECT_THAT(run({command, "--help"}).out, AllOf(HasSubstr("0: done."), Not(HasSubstr("--fail-on")))) << command;
  EXPECT_THAT(run({"check", "--help"}).out, HasSubstr("0: no finding at or above --fail-on"));
}

TEST(CommandLine, only_check_speaks_of_findings_with_quiet) {
  EXPECT_THAT(run({"check", "--help"}).out, HasSubstr("Only likely causes and findings (stop and check first)"));
  EXPECT_THAT(run({"time", "--help"}).out, AllOf(HasSubstr("No progress"), Not(HasSubstr("findings, one line"))));
  expectRefused({"explain", "--quiet"}, "no option \"--quiet\"");
}

TEST(ExportMoves, are_csv_in_mm) {
  const TempFolder folder;
  folder.write("a.nc",
               "G20 G90 G17\nG0 X1 Y0 Z0.5\nG1 X2 F10 S12000\nG3 X1 Y1 I-1 J0\nG18 G2 X2 Z0.5 I0.5 K0\nG4 P2\nM30\n");
  const Ran r = runProvecut(folder, {"export", "--moves", "a.nc"});
  EXPECT_THAT(r.out, StartsWith("line,kind,x0,y0,z0,x1,y1,z1,cx,cy,cz,plane,turns,feed,rpm,tool\n"));
  EXPECT_THAT(r.out, HasSubstr("\n3,feed,25.4,0,12.7,50.8,0,12.7,,,,xy,0,254,12000,0\n"));
  EXPECT_THAT(r.out, HasSubstr("\n4,ccw,50.8,0,12.7,25.4,25.4,12.7,25.4,0,12.7,xy,1,254,12000,0\n"));
  EXPECT_THAT(r.out, HasSubstr("\n5,cw,25.4,25.4,12.7,50.8,25.4,12.7,38.1,25.4,12.7,zx,1,254,12000,0\n"));
  EXPECT_THAT(r.out, HasSubstr("\n6,dwell,50.8,25.4,12.7,50.8,25.4,12.7,,,,"));
}

// Outside a corner at X20 Y0, a tool of 6 mm: 3 mm beside the path.
TEST(ExportMoves, with_a_tool_has_compensated_paths) {
  const TempFolder folder;
  folder.write("a.nc", "G21 G90 G17 T2 M6\nG0 X0 Y0 Z0\nG41 D2 G1 X10 F100\nX20\nY-20\nG40\nM30\n");
  const Ran r = runProvecut(folder, {"export", "--moves", "a.nc", "--tool", "2=flat,6mm"});
  EXPECT_EQ(r.status, 0) << r.err;
  EXPECT_THAT(r.out, HasSubstr("\n5,cw,20,3,0,23,0,0,20,0,0,xy,"));
  EXPECT_EQ(runProvecut(folder, {"export", "--moves", "a.nc"}).status, 1);
  expectRefused({"export", "--moves", "a.nc", "--tool", "2=flat,6"}, "without a unit");
  expectRefused({"export", "--moves", "a.nc", "--tool", "2=flat,6mm", "--tool", "2=flat,8mm"},
                "two tools have number 2");
  expectRefused({"export", "--stl", "job.toml", "--tool", "2=flat,6mm"}, "--tool needs --moves");
}

TEST(BlockDelete, skips_lines_wherever_programs_are_read) {
  const TempFolder folder;
  folder.write("a.nc", "G21 G90 G17\nG0 X0 Y0 Z5\n/G0 X77\nM30\n");
  const std::vector<std::string> moves{"export", "--moves", "a.nc"},
      check{"check", "a.nc", "--stock", "100x100x10mm", "--tool", "1=flat,6mm"};
  const auto with = [](std::vector<std::string> words) {
    words.push_back("--block-delete");
    return words;
  };
  EXPECT_THAT(runProvecut(folder, moves).out, HasSubstr(",77,"));
  const Ran skipped = runProvecut(folder, with(moves));
  EXPECT_THAT(skipped.out, ::testing::Not(HasSubstr(",77,")));
  EXPECT_THAT(skipped.err, HasSubstr("a.nc:3:1: note:"));
  EXPECT_THAT(runProvecut(folder, check).out, HasSubstr("Check the program with --block-delete too."));
  EXPECT_THAT(runProvecut(folder, with(check)).out, HasSubstr("Check the program without --block-delete too."));
  EXPECT_EQ(runProvecut(folder, with({"time", "a.nc"})).status, 0);
}

TEST(ExportMoves, of_what_cannot_be_read_gives_2) {
  expectRefused({"export", "--moves", "nowhere.nc"}, "nowhere.nc: error: cannot read this program: no such file");
}

TEST(ExportMoves, of_a_faulty_program_gives_1_and_says_why) {
  const TempFolder folder;
  folder.write("a.nc", "G21 G90\nG0 X1..5\nM30\n");
  const Ran r = runProvecut(folder, {"export", "--moves", "a.nc"});
  EXPECT_EQ(r.status, 1);
  EXPECT_THAT(r.err, HasSubstr("a.nc:2:4: stop:"));
}

}  // namespace
}  // namespace provecut::testing
