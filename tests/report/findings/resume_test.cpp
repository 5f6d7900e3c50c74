// `provecut resume`: which lines are safe, and what must be in force before them.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <sstream>
#include <utility>

#include "tests/report/running.h"

namespace provecut::testing {
namespace {

using ::testing::AllOf;
using ::testing::ElementsAre;
using ::testing::HasSubstr;

// The screw's head is at 4; with a clearance of 3 the tool is up at Z 7 (smallJob).
constexpr std::string_view program =
    "G20 G90 G17 G94\n"  // 1
    "T1 M6\n"
    "S12000 M3\n"
    "G0 Z0.4\n"     // 10.16 mm
    "G0 X2 Y1.5\n"  // 5: up, after a rapid up? the first height is set from an unknown place
    "G1 Z-0.1 F20\n"
    "G0 Z0.1\n"  // 2.54 mm: too low
    "G0 X2.5\n"  // 8
    "G1 Z-0.1\n"
    "G1 X2.6 F40\n"  // 10
    "G0 Z0.4\n"
    "X1 Y2\n"  // 12: safe, relies on G0
    "G1 Z-0.1\n"
    "G0 Z0.4\n"
    "G0 X0 Y0\n"  // 15: safe
    "M5\nM30\n";

nlohmann::json resume(const std::vector<std::string>& more = {}) {
  TempFolder folder;
  folder.write("a.nc", program);
  folder.write("job.toml", smallJob({"a.nc"}));
  std::vector<std::string> words{"resume", "job.toml", "--format", "json"};
  words.insert(words.end(), more.begin(), more.end());
  const Ran r = runProvecut(folder, words);
  EXPECT_EQ(r.status, 0) << r.err;
  return nlohmann::json::parse(r.out)["programs"][0];
}

std::vector<int> linesOf(const nlohmann::json& p) {
  std::vector<int> lines;
  for (const auto& l : p["resume_lines"]) lines.push_back(l["line"]);
  return lines;
}

TEST(Resume, only_lines_that_begin_with_the_tool_up_are_named) {
  const auto p = resume();
  EXPECT_THAT(linesOf(p), ElementsAre(12, 15));
}

TEST(Resume, the_state_and_the_place_before_each_are_said) {
  const auto l = resume()["resume_lines"][0];
  // No G17, since nothing turns, and no G54, since the program has none.
  EXPECT_EQ(l["in_force"], "G20 G90 G94 S12000 M3 F40 G0");
  EXPECT_EQ(l["tool"], 1);
  EXPECT_NEAR(l["at"][0].get<double>(), 2.6 * 25.4, 1e-6);
  EXPECT_NEAR(l["at"][1].get<double>(), 1.5 * 25.4, 1e-6);
  EXPECT_NEAR(l["at"][2].get<double>(), 0.4 * 25.4, 1e-6);
  EXPECT_EQ(resume()["resume_lines"][1]["in_force"], "G20 G90");  // it has its own G0, and nothing is cut after it
}

TEST(Resume, before_names_the_last_one_at_or_before_a_line) {
  EXPECT_THAT(linesOf(resume({"--before", "14"})), ElementsAre(12));
  EXPECT_THAT(linesOf(resume({"--before", "15"})), ElementsAre(15));
  EXPECT_TRUE(linesOf(resume({"--before", "11"})).empty());
}

// Resumed there, with that state set, the rest runs as it did in the whole program.
TEST(Resume, the_rest_runs_alike_from_there) {
  TempFolder folder;
  folder.write("whole.nc", program);
  folder.write("rest.nc", std::string("G20 G90 G17 G94 G54 S12000 M3 F40 G0\nT1\nG0 Z0.4\nG0 X2.6 Y1.5\n") +
                              std::string(program.substr(program.find("X1 Y2\n"))));
  const auto moves = [&](const std::string& file) {
    const std::string csv = runProvecut(folder, {"export", "--moves", file}).out;
    // Without the line numbers, the last four moves.
    std::vector<std::string> rows;
    std::istringstream in(csv);
    for (std::string row; std::getline(in, row);) rows.push_back(row.substr(row.find(',') + 1));
    return std::vector<std::string>(rows.end() - 4, rows.end());
  };
  EXPECT_EQ(moves("rest.nc"), moves("whole.nc"));
}

std::string resumeText(std::string_view nc, const std::vector<std::string>& more = {}) {
  TempFolder folder;
  folder.write("a.nc", nc);
  folder.write("job.toml", smallJob({"a.nc"}));
  std::vector<std::string> words{"resume", "job.toml"};
  words.insert(words.end(), more.begin(), more.end());
  return runProvecut(folder, words).out;
}

// What is typed after G20 is in inches, whatever the job file is in.
TEST(Resume, the_start_point_is_in_the_unit_of_the_words_beside_it) {
  for (const std::vector<std::string>& units : {std::vector<std::string>{}, {"--units", "mm"}, {"--units", "in"}}) {
    const std::string out = resumeText(program, units);
    EXPECT_THAT(out, HasSubstr("X2.6 Y1.5 Z0.4 in"));
    EXPECT_THAT(out, ::testing::Not(HasSubstr("66.04")));  // 2.6 in in mm
  }
  const std::string metric =
      "G21 G90 G17 G94\nT1 M6\nS12000 M3\nG0 Z8\nG0 X50 Y40.5\nG1 Z-2 F300\nG0 Z8\nG0 X20\nM5\nM30\n";
  EXPECT_THAT(resumeText(metric), HasSubstr("X50 Y40.5 Z8 mm"));
}

// Unit and work offset before the move that is meant in them; the way over the clamps before the way down.
TEST(Resume, the_steps_are_in_a_safe_order) {
  std::string out = resumeText(program);
  std::replace(out.begin(), out.end(), '\n', ' ');
  for (std::size_t at; (at = out.find("  ")) != std::string::npos;) out.erase(at, 1);  // lines break where they like
  std::size_t before = 0;
  for (const char* step : {"set X, Y and Z zero again", "Put in the tool", "Raise Z clear", "Enter the words under",
                           "up to speed", "X and Y first, then Z", "Run from that line"}) {
    const std::size_t at = out.find(step, before);
    ASSERT_NE(at, std::string::npos) << step << " after what comes before it in\n" << out;
    before = at;
  }
  EXPECT_THAT(out, ::testing::Not(HasSubstr("G91")));
}

TEST(Resume, a_start_point_under_g91_is_jogged_to) {
  EXPECT_THAT(
      resumeText("G21 G90 G17 G94\nT1 M6\nS12000 M3\nG0 Z8\nG0 X50 Y40\nG1 Z-2 F300\nG0 Z8\nG91\nG0 X20\nM5\nM30\n"),
      HasSubstr("With G91 under \"set first\", jog to the start point"));
}

// What has to be set at the last line to resume at, before `line` of the program.
nlohmann::json before(int line, const std::string& nc) {
  TempFolder folder;
  folder.write("a.nc", nc);
  folder.write("job.toml", smallJob({"a.nc"}));
  const Ran r = runProvecut(folder, {"resume", "job.toml", "--format", "json", "--before", std::to_string(line)});
  return nlohmann::json::parse(r.out)["programs"][0];
}

// Each program is cut, lifted on line 6 and moved on by line 7.
std::string setFirst(const std::string& head, const std::string& rest) {
  const auto p = before(7, head + "\nG0 Z9\nG0 X50 Y40 F300\nG1 Z-2\nX60\nG0 Z9\n" + rest + "\nM30\n");
  EXPECT_EQ(p["resume_lines"].size(), 1U) << p;
  if (p["resume_lines"].empty()) return "";
  EXPECT_EQ(p["resume_lines"][0]["line"], 7);
  return p["resume_lines"][0]["in_force"];
}

TEST(Resume, a_program_without_s_is_never_asked_for_s0) {
  EXPECT_EQ(setFirst("G21 G90 M3", "G0 X20\nG1 Z-2"), "G21 G90 M3 F300");
}

TEST(Resume, coolant_is_on_again_where_the_rest_cuts_with_it) {
  EXPECT_EQ(setFirst("G21 G90 M8", "G0 X20\nG1 Z-2"), "G21 G90 M8 F300");
  EXPECT_EQ(setFirst("G21 G90 M7 M8", "G0 X20\nG1 Z-2"), "G21 G90 M7 M8 F300");
  EXPECT_EQ(setFirst("G21 G90 M8", "G0 X20\nM9\nG1 Z-2"), "G21 G90 F300");
  EXPECT_EQ(setFirst("G21 G90 M8", "G0 X20 M9\nG1 Z-2"), "G21 G90 F300");
}

TEST(Resume, corners_are_rounded_as_before) {
  EXPECT_EQ(setFirst("G21 G90 G64 P0.02", "G0 X20\nG1 Z-2"), "G21 G90 G64 P0.02 F300");
  EXPECT_EQ(setFirst("G21 G90 G61", "G0 X20\nG1 Z-2"), "G21 G90 G61 F300");
  EXPECT_EQ(setFirst("G21 G90 G61", "G61.1 G0 X20\nG1 Z-2"), "G21 G90 F300");
}

TEST(Resume, the_height_that_drilling_goes_back_to_is_set_only_where_holes_follow) {
  EXPECT_EQ(setFirst("G21 G90 G98", "G0 X20\nG81 X20 Z-2 R1"), "G21 G90 G98 F300");
  EXPECT_EQ(setFirst("G21 G90 G99", "G0 X20\nG81 X20 Z-2 R1"), "G21 G90 G99 F300");
  EXPECT_EQ(setFirst("G21 G90 G99", "G0 X20\nG98 G81 X20 Z-2 R1"), "G21 G90 F300");
  EXPECT_EQ(setFirst("G21 G90 G99", "G0 X20\nG1 Z-2"), "G21 G90 F300");
}

TEST(Resume, the_length_offset_has_the_number_that_the_program_gave_it) {
  EXPECT_EQ(setFirst("G21 G90 G43 H7", "G0 X20\nG1 Z-2"), "G21 G90 G43 H7 F300");
  EXPECT_EQ(setFirst("G21 G90 G43", "G0 X20\nG1 Z-2"), "G21 G90 G43 F300");
  EXPECT_EQ(setFirst("G21 G90 G49", "G0 X20\nG1 Z-2"), "G21 G90 G49 F300");
}

TEST(Resume, only_what_the_rest_does_not_set_itself_is_asked_for) {
  EXPECT_EQ(setFirst("G21 G90 G17 G54 S9000 M3", "G0 X20\nG18 G2 X20 Z9 I1 S8000"), "G21 G90 G54 M3 F300");
  EXPECT_EQ(setFirst("G21 G90", "G20 G91 G0 X1\nG1 Z-0.1 F9"), "");
  // The unit of the F word above, though the line has its own.
  EXPECT_EQ(setFirst("G21 G90", "G21 G90 G0 X1\nG1 Z-0.1"), "G21 F300");
}

TEST(Resume, compensation_that_may_be_left_on_is_ended) {
  EXPECT_EQ(setFirst("G21 G90 G17", "G0 X20\nG41 D1\nG1 X30 Y30\nG40"), "G21 G90 G17 G40 F300");
}

TEST(Resume, parameters_have_the_values_they_had) {
  EXPECT_EQ(setFirst("#1=2 #2=6.5 G21 G90", "G0 X#2\n#1=5\nG1 Z-#1"), "#2=6.5 G21 G90 F300");
}

TEST(Resume, a_tool_called_ahead_is_called_again) {
  EXPECT_EQ(setFirst("G21 G90 T2", "G0 X20\nM6\nG1 Z-2"), "G21 G90 T2 F300");
}

TEST(Resume, where_it_cannot_be_resumed_the_reason_is_said) {
  const std::string up = "G21 G90 F300\nG0 Z9\nG0 X50 Y40\n";
  const auto why = [&](int line, const std::string& nc) {
    const auto p = before(line, up + nc);
    return p.contains("why_not") ? p["why_not"].get<std::string>() : std::string("none");
  };
  EXPECT_THAT(why(4, "G1 Z-2\n"), HasSubstr("tool is not safely up"));
  EXPECT_THAT(why(5, "G81 X1 Z-2 R1\nX2\n"), HasSubstr("drilling cycle"));
  EXPECT_THAT(why(5, "G41 D1 G1 X60 Y30\nX70\nG40\n"), HasSubstr("cutter compensation"));
  EXPECT_THAT(why(7, "M98 P5\nM30\nO5\nG0 X9\nM99\n"), HasSubstr("part of a subprogram"));
  EXPECT_THAT(why(5, "O5 repeat [2]\nG0 X9\nO5 endrepeat\n"), HasSubstr("part of a loop"));
  EXPECT_THAT(why(5, "O5 if [1]\nG0 X9\nO5 endif\n"), HasSubstr("O if"));
  EXPECT_THAT(why(8, "O5 sub\nG1 X9\nO5 endsub\nG0 Z20\nG0 X9\nO5 call\n"), HasSubstr("calls a subprogram"));
  EXPECT_THAT(why(7, "G92 X5\nG1 Z5\nG0 Z20\nG0 X9\n"), HasSubstr("zero that the program moved"));
  EXPECT_THAT(why(7, "G38.2 Z-9\n#1=#5063\nG0 Z20\nG0 X9\nG0 Z[#1+20]\n"), HasSubstr("what the probe measured"));
  EXPECT_THAT(why(5, "G80\nX9\n"), HasSubstr("G80"));
  EXPECT_THAT(why(1, ""), HasSubstr("where the tool is"));
  EXPECT_EQ(why(5, "G0 Z20\nG0 X9\n"), "none");
  EXPECT_EQ(why(50, "G0 Z20\n"), "none");  // there is none
}

TEST(Resume, a_refused_line_is_named_with_the_one_before_it) {
  std::string out = resumeText(program, {"--before", "13"});
  EXPECT_THAT(out, HasSubstr("cannot be resumed at line 13: the tool is not safely up"));
  EXPECT_THAT(out, HasSubstr("last line before it"));
  EXPECT_THAT(resumeText(program, {"--before", "3"}), HasSubstr("has no line to resume at up to line 3"));
}

// What the machine shows after G55 is not what the job's zero would make it.
TEST(Resume, the_start_point_is_shown_in_the_work_offset_in_force) {
  TempFolder folder;
  folder.write("a.nc", "G21 G90 G55\nG0 Z9\nG0 X50 Y40 F300\nG1 Z-2\nG0 Z19\nG0 X60\nM30\n");
  std::string job = smallJob({"a.nc"});
  job.insert(job.find("[[setup.program]]"), "offsets = { G55 = [10, 20, 1] }\n");
  folder.write("job.toml", job);
  const Ran r = runProvecut(folder, {"resume", "job.toml"});
  EXPECT_THAT(r.out, HasSubstr("X50 Y40 Z19 mm (G55)")) << r.err;
}

TEST(Resume, a_start_point_at_the_top_of_the_travel_has_no_height) {
  const std::string out = resumeText("G21 G90\nG0 Z9\nG0 X50 Y40 F300\nG1 Z-2\nG53 G0 Z0\nG0 X60\nM30\n");
  EXPECT_THAT(out, HasSubstr("X50 Y40 mm, Z fully up"));
}

TEST(Resume, modes_that_the_program_never_set_are_named) {
  TempFolder folder;
  folder.write("a.nc", "G0 Z10\nX50 Y40\nG1 Z-2 F300\nG0 Z10\nX0 Y0\nM30\n");
  folder.write("job.toml", smallJob({"a.nc"}));
  const Ran r = runProvecut(folder, {"resume", "job.toml"});
  EXPECT_EQ(r.status, 0);
  EXPECT_THAT(r.out,
              AllOf(HasSubstr("relies on what was set before: "), HasSubstr("G20 or G21"), HasSubstr("G90 or G91")));
}

TEST(Resume, that_cannot_be_used_gives_2) {
  TempFolder folder;
  EXPECT_EQ(runProvecut(folder, {"resume"}).status, 2);
  EXPECT_EQ(runProvecut(folder, {"resume", "none.toml"}).status, 2);
  EXPECT_EQ(runProvecut(folder, {"resume", "job.toml", "--before", "0"}).status, 2);
}

// The screw's head stands 4 above the stock, and 3 are to be kept clear of it: as high as 7 is high enough.
TEST(Resume, a_line_that_begins_just_at_the_clearance_height_is_safe_and_a_hair_lower_it_is_not) {
  for (const auto& [height, safe] : {std::pair{"7", true}, {"6.99", false}}) {
    TempFolder folder;
    const std::string up = std::string("G0 Z") + height + "\n";
    folder.write("a.nc",
                 "G21 G90 G17 G94\nT1 M6\nS12000 M3\n" + up + "G0 X50 Y40\nG1 Z-2 F300\n" + up + "G0 X20\nM5\nM30\n");
    folder.write("job.toml", smallJob({"a.nc"}));
    const Ran r = runProvecut(folder, {"resume", "job.toml", "--format", "json"});
    ASSERT_EQ(r.status, 0) << r.err;
    const auto lines = linesOf(nlohmann::json::parse(r.out)["programs"][0]);
    EXPECT_EQ(std::count(lines.begin(), lines.end(), 8), safe ? 1 : 0) << height;
  }
}

}  // namespace
}  // namespace provecut::testing
