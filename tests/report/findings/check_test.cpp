// `provecut check` as a person or a script meets it: files in, text and an exit status out.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <nlohmann/json.hpp>
#include <sstream>

#include "report/base/visible_text.h"
#include "tests/paths.h"
#include "tests/report/running.h"

namespace provecut::testing {
namespace check_test {

using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;
using ::testing::StartsWith;

// A pocket away from the screw, within all limits.
constexpr std::string_view clean_program =
    "G21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X50 Y40\nG1 Z-2 F300\nG1 X70 F900\nG0 Z10\nM5\nM30\n";
// Rapids low above the stock: one finding of level look.
constexpr std::string_view low_program =
    "G21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X50 Y40\nG1 Z-2 F300\nG1 X70 F900\nG0 Z0.4\nG0 X20\nG0 "
    "Z10\nM5\nM30\n";
// Through the screw at (10, 10).
constexpr std::string_view hitting_program =
    "G21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X30 Y10\nG1 Z-2 F300\nG1 X12 F900\nG0 Z10\nM5\nM30\n";

struct Bench {
  TempFolder folder;
  explicit Bench(std::string_view program) {
    folder.write("a.nc", program);
    folder.write("job.toml", smallJob({"a.nc"}));
  }
  Ran check(std::vector<std::string> more = {}) const {
    more.insert(more.begin(), {"check", "job.toml"});
    return runProvecut(folder, more);
  }
};

TEST(Check, a_clean_job_is_clear_and_gives_0) {
  const Ran r = Bench(clean_program).check();
  EXPECT_EQ(r.status, 0) << r.out;
  EXPECT_THAT(r.out, HasSubstr("Clear. No problems found."));
  EXPECT_THAT(r.err, IsEmpty());
}

// A slot right through with the 6 mm bit: 2 mm is a third of it. Provecut itself would take cells of 0.25 mm.
constexpr std::string_view slot_program =
    "G21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X50 Y40\nG1 Z-10.2 F300\nG1 X70 F900\nG0 Z10\nM5\nM30\n";

TEST(Check, cells_asked_for_too_coarse_to_see_tabs_are_said_and_nothing_is_clear) {
  const Ran r = Bench(slot_program).check({"--cell", "5"});
  EXPECT_THAT(r.out,
              AllOf(HasSubstr("a.nc: cells of 5 mm are too coarse for its 6 mm cutter, so tabs and walls thinner "
                              "than a cell may\n  be missed; leave --cell out"),
                    HasSubstr("Check first."), Not(HasSubstr("Clear."))));
}

TEST(Check, cells_asked_for_by_the_job_count_as_well) {
  const Bench job(slot_program);
  job.folder.write("job.toml", smallJob({"a.nc"}, "[limits]\ncell = 4\n"));
  EXPECT_THAT(job.check({"--format", "json"}).out,
              AllOf(HasSubstr("leave `limits.cell` out"), HasSubstr("\"complete\": false")));
}

TEST(Check, cells_of_a_third_of_the_cutter_are_fine_enough_and_so_are_any_where_nothing_is_cut_through) {
  EXPECT_THAT(Bench(slot_program).check({"--cell", "2"}).out, Not(HasSubstr("too coarse")));
  EXPECT_THAT(Bench(clean_program).check({"--cell", "5"}).out, Not(HasSubstr("too coarse")));
  EXPECT_THAT(Bench(slot_program).check().out, Not(HasSubstr("too coarse")));
}

std::string startingWith(const std::string& first_moves) {
  return "G21 G90 G17 G94 G54\n" + first_moves +
         "\nG90\nT1 M6\nM3 S12000\nG4 P5\nG0 Z40\nG0 X50 Y40\nG0 Z10\nG1 Z-2 F300\nG1 X70 F900\nG0 Z40\nM5\nM30\n";
}

// The program alone says which tool is in the spindle.
Ran checkedStartingWith(const std::string& first_moves) {
  const Bench bench(startingWith(first_moves));
  std::string job = smallJob({"a.nc"});
  job.erase(job.find("tool = 1\n"), 9);
  bench.folder.write("job.toml", job);
  return bench.check();
}

TEST(Check, a_lift_out_of_the_way_before_the_first_tool_change_needs_no_tool) {
  for (const char* lift : {"G0 Z40", "G53 G0 Z0", "G28 G91 Z0", "G53 G0 Z0\nG0 X0 Y0", "G0 Z40\nG0 X0 Y0"}) {
    const Ran r = checkedStartingWith(lift);
    EXPECT_THAT(r.out, AllOf(Not(HasSubstr("no tool is known")), HasSubstr(" 1 6 mm"))) << lift;
  }
}

TEST(Check, a_low_move_before_the_first_tool_change_is_not_checked_and_nothing_is_clear) {
  for (const char* low : {"G0 Z1", "G0 X0 Y0", "G0 Z40\nG0 Z2", "G0 Z40\nG0 X20 Z1\nG0 Z40"}) {
    const Ran r = checkedStartingWith(low);
    EXPECT_THAT(r.out, AllOf(HasSubstr("no tool is known to be in the spindle"), Not(HasSubstr("Clear")))) << low;
  }
}

TEST(Check, a_hit_gives_1_and_says_where) {
  const Ran r = Bench(hitting_program).check();
  EXPECT_EQ(r.status, 1);
  EXPECT_THAT(r.out, AllOf(HasSubstr("a.nc:8:"), HasSubstr("stop:"), HasSubstr("SW"), HasSubstr("[hold-down-hit]"),
                           HasSubstr("G1 X12 F900"), HasSubstr("^^^")));
}

TEST(Check, verbose_lists_every_move_that_hits) {
  // In along Y 10, out again, and in once more: three moves touch the screw.
  const Bench bench(
      "G21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X30 Y10\nG1 Z-2 F300\nG1 X12 F900\nG1 X30\nG1 X14\nG0 "
      "Z10\nM5\nM30\n");
  const std::string text = bench.check({"--verbose"}).out;
  for (const char* line : {"hit:   line 8: ", "hit:   line 9: ", "hit:   line 10: "})
    EXPECT_THAT(text, HasSubstr(line));
  EXPECT_THAT(bench.check().out, Not(HasSubstr("hit:")));
}

TEST(Check, verbose_lists_the_lines_of_all_moves_of_a_finding) {
  // Sideways half a millimetre above the stock on lines 7, 8 and 11.
  const Bench bench(
      "G21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 X50 Y40 Z10\nG0 Z0.5\nG0 X60\nG0 X70\nG1 Z-2 F300\nG0 Z0.5\nG0 "
      "X80\nG0 Z10\nM5\nM30\n");
  EXPECT_THAT(bench.check({"--verbose"}).out, HasSubstr("all:   lines 7-8, 11"));
  EXPECT_THAT(bench.check().out, AllOf(HasSubstr("3 moves like this, lines 7-11"), Not(HasSubstr("all:"))));
}

TEST(Check, a_fault_on_more_lines_than_are_kept_has_its_first_and_last_named) {
  std::string program = "G21 G90 G17 G94 G54\n";
  for (int k = 0; k < 30; ++k) program += "M1234\n";
  EXPECT_THAT(Bench(program + "M30\n").check().out, HasSubstr("30 times, lines 2-31"));
}

TEST(Check, what_holds_the_pieces_is_told_of_four_sizes_and_the_rest_counted) {
  EXPECT_THAT(Bench(clean_program).check().out,
              AllOf(HasSubstr("what holds the stock and the parts"), Not(HasSubstr(" more"))));
  std::string program = "G21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z30\n";
  for (const char* y : {"12", "22", "34", "48", "64"})
    program += std::string("G0 X-10 Y") + y + "\nG1 Z-10.2 F300\nG1 X110 F900\nG0 Z30\n";
  EXPECT_THAT(Bench(program + "M5\nM30\n").check().out, HasSubstr("; and 2 more"));
}

TEST(Check, text_stays_within_100_columns) {
  for (const std::string_view program : {clean_program, low_program, hitting_program}) {
    std::istringstream lines(Bench(program).check().out);
    for (std::string line; std::getline(lines, line);) EXPECT_LE(displayWidth(line), 100u) << line;
  }
}

TEST(Check, many_tools_and_long_names_stay_within_100_columns) {
  const Bench b(clean_program);
  const std::string name = "a-program-with-a-name-that-goes-on-and-on-for-the-whole-width-of-a-terminal.nc";
  std::string program = "G21 G90 G17 G94 G54\n";
  for (int tool = 1; tool < 30; ++tool) program += "T" + std::to_string(tool) + " M6\nG0 Z50\nG0 X1\nG0 X2\n";
  b.folder.write(name, program + "M30\n");
  b.folder.write("job.toml", smallJob({name}));
  const Ran r = b.check();
  ASSERT_EQ(r.status, 1) << r.err;
  std::istringstream lines(r.out);
  for (std::string line; std::getline(lines, line);) EXPECT_LE(displayWidth(line), 100u) << line;
}

TEST(QuickJob, is_said_to_be_assumed_and_shown_in_the_unit_of_the_stock) {
  const Bench b(clean_program);
  const Ran mm = runProvecut(b.folder, {"check", "a.nc", "--stock", "100x80x10mm", "--tool", "1=flat,6mm"});
  EXPECT_EQ(mm.status, 0) << mm.out << mm.err;
  EXPECT_THAT(mm.out, AllOf(HasSubstr("[assumed]"), HasSubstr("stock 100 × 80 × 10 mm")));
  const Ran in = runProvecut(b.folder, {"check", "a.nc", "--stock", "4x3x0.5in", "--tool", "1=flat,0.25in"});
  EXPECT_THAT(in.out, HasSubstr("stock 4 × 3 × 0.5 in"));
  const Ran fine = runProvecut(b.folder, {"check", "a.nc", "--stock", "4x3x0.4375in", "--tool", "1=flat,0.25in"});
  EXPECT_THAT(fine.out, HasSubstr("stock 4 × 3 × 0.4375 in"));
}

TEST(QuickJob, that_is_not_whole_gives_2) {
  const Bench b(clean_program);
  for (const std::vector<std::string>& words : {std::vector<std::string>{"check", "a.nc"},
                                                {"check", "a.nc", "--stock", "100x80x10mm"},
                                                {"check", "a.nc", "--stock", "100x80", "--tool", "1=flat,6mm"},
                                                {"check", "a.nc", "--stock", "100x80x10mm", "--tool", "flat"}}) {
    const Ran r = runProvecut(b.folder, words);
    EXPECT_EQ(r.status, 2);
    EXPECT_THAT(r.err, HasSubstr("--"));
    EXPECT_THAT(r.out, IsEmpty());
  }
}

TEST(FailOn, decides_the_status_and_nothing_else) {
  const Bench low(low_program), hit(hitting_program), clean(clean_program);
  const auto status = [](const Bench& b, const char* level) { return b.check({"--fail-on", level}).status; };
  EXPECT_EQ(low.check().status, 0);
  EXPECT_EQ(status(low, "stop"), 0);
  EXPECT_EQ(status(low, "look"), 1);
  EXPECT_EQ(status(low, "note"), 1);
  EXPECT_EQ(status(low, "never"), 0);
  EXPECT_EQ(status(hit, "stop"), 1);
  EXPECT_EQ(status(hit, "never"), 0);
  EXPECT_EQ(status(clean, "note"), 0);
  EXPECT_EQ(hit.check({"--fail-on", "never"}).out, hit.check().out);
}

TEST(Check, a_program_that_was_not_read_whole_never_gives_0) {
  const Bench b(std::string(clean_program) + "");
  b.folder.write("a.nc",
                 "G21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X50 Y40\nG65 P9000\nG0 Z10\nM5\nM30\n");
  const Ran r = b.check({"--fail-on", "never"});
  EXPECT_EQ(r.status, 1) << r.out;
  EXPECT_THAT(r.out, HasSubstr("not checked"));
  EXPECT_THAT(r.out, Not(HasSubstr("No problems found")));
}

TEST(Check, an_accepted_finding_is_listed_and_not_counted) {
  const Bench b(hitting_program);
  b.folder.write(
      "job.toml",
      smallJob({"a.nc"}, "[[accept]]\nrule = \"hold-down-hit\"\nreason = \"the screw is drawn too tall\"\n"));
  const Ran r = b.check();
  EXPECT_THAT(r.out, AllOf(HasSubstr("stop (accepted)"), HasSubstr("ok:   the screw is drawn too tall"),
                           HasSubstr("1 accepted")));
  const auto j = nlohmann::json::parse(b.check({"--format", "json"}).out);
  bool listed = false;
  for (const auto& f : j["findings"]) {
    if (f["rule"] != "hold-down-hit") continue;
    listed = true;
    EXPECT_EQ(f["accepted"], "the screw is drawn too tall");
  }
  EXPECT_TRUE(listed);
  EXPECT_FALSE(j["hits"].empty());
}

TEST(Quiet, gives_one_line_per_finding_and_nothing_where_there_is_none) {
  EXPECT_THAT(Bench(clean_program).check({"--quiet"}).out, IsEmpty());
  const Ran r = Bench(low_program).check({"-q"});
  EXPECT_EQ(std::count(r.out.begin(), r.out.end(), '\n'), 1) << r.out;
  EXPECT_THAT(r.out, AllOf(StartsWith("a.nc:"), HasSubstr("look:"), HasSubstr("[low-rapid]")));
  EXPECT_THAT(r.err, IsEmpty());
}

TEST(Verbose, says_on_standard_error_what_is_done) {
  const Bench b(clean_program);
  const Ran r = b.check({"--verbose"});
  for (const char* stage : {"read ", "cut ", "clearances ", "parts ", "clock ", "spots ", "rules ", "write "})
    EXPECT_THAT(r.err, HasSubstr(std::string("provecut: ") + stage));
  const auto lines = std::count(clean_program.begin(), clean_program.end(), '\n');
  EXPECT_THAT(r.err, HasSubstr(" s, " + std::to_string(lines) + " lines\n"));
  EXPECT_THAT(r.err, HasSubstr(" s, " + std::to_string(r.out.size()) + " bytes\n"));
  EXPECT_EQ(r.out, b.check().out);
  EXPECT_THAT(b.check().err, IsEmpty());
}

TEST(LogFile, holds_the_stages_and_leaves_standard_error_empty) {
  const Bench b(clean_program);
  const Ran r = b.check({"--log-file", "stages.log"});
  EXPECT_THAT(r.err, IsEmpty());
  EXPECT_THAT(b.folder.read("stages.log"), AllOf(HasSubstr("provecut: read "), HasSubstr("provecut: write ")));
}

TEST(LogFile, that_cannot_be_written_gives_2) {
  const Bench b(clean_program);
  for (const std::string name : {"job.toml/stages.log", "new/folder/stages.log", "/dev/full"}) {
    if (name == "/dev/full" && !std::filesystem::exists(name)) continue;
    const Ran r = b.check({"--log-file", name});
    EXPECT_EQ(r.status, 2) << name;
    EXPECT_THAT(r.err, HasSubstr("cannot write " + name));
  }
  EXPECT_FALSE(std::filesystem::exists(b.folder.path() / "new"));
}

TEST(LogFile, without_a_name_is_refused) {
  const Ran r = Bench(clean_program).check({"--log-file", ""});
  EXPECT_EQ(r.status, 2);
  EXPECT_THAT(r.err, HasSubstr("--log-file \"\": give the name of a file"));
}

TEST(LogFile, costs_no_job_file_and_no_program) {
  const Bench b(clean_program);
  const std::string job = b.folder.read("job.toml");
  std::filesystem::create_symlink("a.nc", b.folder.path() / "link.log");
  std::filesystem::create_hard_link(b.folder.path() / "job.toml", b.folder.path() / "twin.log");
  for (const std::string name : {"job.toml", "a.nc", "./a.nc", "link.log", "twin.log"}) {
    const Ran r = b.check({"--log-file", name});
    EXPECT_EQ(r.status, 2) << name;
    EXPECT_THAT(r.err, HasSubstr("cannot write " + name + ": the file is not a log of provecut"));
    EXPECT_THAT(r.out, IsEmpty());
    EXPECT_EQ(b.folder.read("job.toml"), job);
    EXPECT_EQ(b.folder.read("a.nc"), clean_program);
  }
}

TEST(LogFile, is_another_than_the_result) {
  const Bench b(clean_program);
  std::filesystem::create_symlink("report.txt", b.folder.path() / "link.log");
  for (const std::string name : {"report.txt", "./report.txt", "link.log"}) {
    const Ran r = b.check({"--output", "report.txt", "--log-file", name});
    EXPECT_EQ(r.status, 2) << name;
    EXPECT_THAT(r.err, HasSubstr("--output is the same file"));
    EXPECT_FALSE(std::filesystem::exists(b.folder.path() / "report.txt"));
  }
}

TEST(LogFile, of_the_last_run_and_an_empty_file_are_written_over) {
  const Bench b(clean_program);
  b.folder.write("stages.log", "");
  for (int run = 0; run < 2; ++run) {
    EXPECT_EQ(b.check({"--log-file", "stages.log"}).status, 0);
    const std::string log = b.folder.read("stages.log");
    EXPECT_THAT(log, StartsWith("provecut: read "));
    EXPECT_EQ(log.find("provecut: read ", 1), std::string::npos) << log;
  }
}

TEST(Colour, is_left_out_when_no_terminal_reads) {
  EXPECT_THAT(Bench(hitting_program).check().out, Not(HasSubstr("\x1b")));
}

TEST(Output, goes_to_a_file) {
  const Bench b(hitting_program);
  const Ran r = b.check({"--output", "report.txt"});
  EXPECT_EQ(r.status, 1);
  EXPECT_THAT(r.out, IsEmpty());
  EXPECT_EQ(b.folder.read("report.txt"), b.check().out);
}

TEST(Output, that_cannot_be_written_gives_2) {
  const Bench b(clean_program);
  const Ran r = b.check({"--output", "no/such/folder/report.txt"});
  EXPECT_EQ(r.status, 2);
  EXPECT_THAT(r.err, HasSubstr("cannot write no/such/folder/report.txt: there is no folder no/such/folder"));
  if (std::filesystem::exists("/dev/full")) {
    EXPECT_EQ(b.check({"--output", "/dev/full"}).status, 2);
  }
}

// What is shorter than the buffer of standard output is written at the very end.
TEST(Output, however_short_onto_a_full_or_closed_standard_output_gives_2) {
  const Bench b(clean_program);
  for (const std::string command :
       {"check job.toml", "check -q job.toml", "check --format json job.toml", "time job.toml", "place job.toml",
        "resume job.toml", "export job.toml --hits", "init a.nc", "explain power", "--help", "--version"}) {
    for (const std::string to : {"> /dev/full", ">&-"}) {
      if (to == "> /dev/full" && !std::filesystem::exists("/dev/full")) continue;
      const Ran r = runShell(b.folder.path(), "'" PROVECUT_PROGRAM "' " + command + " " + to);
      const bool nothing_to_write = command == "check -q job.toml";
      EXPECT_EQ(r.status, nothing_to_write ? 0 : 2) << command << " " << to;
      EXPECT_EQ(r.err.find("cannot write to standard output: ") == std::string::npos, nothing_to_write) << command;
    }
  }
}

TEST(Threads, do_not_change_a_byte) {
  const Bench b(hitting_program);
  const std::string one = b.check({"--threads", "1", "--format", "json"}).out;
  EXPECT_EQ(one, b.check({"--threads", "2", "--format", "json"}).out);
  EXPECT_EQ(one, b.check({"--threads", "8", "--format", "json"}).out);
}

TEST(Units, change_what_is_shown_but_not_the_json) {
  const Bench b(hitting_program);
  // The screw's top is at 4 mm (0.157 in); only the tool's own name says mm.
  EXPECT_THAT(b.check({"--units", "in"}).out,
              AllOf(HasSubstr("0.157"), HasSubstr("3.937 × 3.15 × 0.394 in"), Not(HasSubstr("0 mm"))));
  EXPECT_THAT(b.check({"--units", "mm"}).out, HasSubstr("100 × 80 × 10 mm"));
  const auto mm = nlohmann::json::parse(b.check({"--format", "json"}).out);
  const auto in = nlohmann::json::parse(b.check({"--format", "json", "--units", "in"}).out);
  EXPECT_EQ(mm["hits"], in["hits"]);
  EXPECT_EQ(mm["programs"], in["programs"]);
}

TEST(Json, lists_every_single_hit) {
  const Bench b(hitting_program);
  b.folder.write("a.nc",
                 "G21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X30 Y10\nG1 Z2 F300\nG1 X12 "
                 "F900\nX30\nX12\nX30\nG0 Z10\nM5\nM30\n");
  const auto j = nlohmann::json::parse(b.check({"--format", "json"}).out);
  std::vector<int> lines;
  for (const auto& hit : j["hits"]) {
    EXPECT_EQ(hit["subject"], "SW");
    EXPECT_EQ(hit["tool_part"], "cutter");
    lines.push_back(hit["line"]);
  }
  EXPECT_EQ(lines, (std::vector<int>{8, 9, 10, 11}));
  // The cutter of radius 3 stands at X 12, the screw's rim at X 15: it is inside by 3 + 5 - 2 = 6 mm (plane geometry).
  EXPECT_NEAR(j["hits"][0]["overlap_mm"], 6.0, 1e-6);
  EXPECT_EQ(j["verdict"], "stop");
  EXPECT_EQ(j["provecut"], 1);
}

}  // namespace check_test
}  // namespace provecut::testing
