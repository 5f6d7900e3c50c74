#include "report/draft/draft_job.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>

#include "parser/interpreter/interpreter.h"
#include "parser/job_file/job_file.h"
#include "report/base/visible_text.h"
#include "tests/parser/job_file/marked_text.h"
#include "tests/paths.h"

namespace provecut {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::SizeIs;

struct Draft {
  std::string text;
  Job job;
};

Draft draftOf(const std::vector<std::pair<std::string, std::string>>& files, const std::string& name = "board") {
  std::vector<Program> programs;
  for (const auto& [file, text] : files) programs.push_back(interpret(text));
  std::vector<draft::DraftProgram> entries;
  for (std::size_t i = 0; i < files.size(); ++i) entries.push_back({files[i].first, &programs[i]});
  Draft draft{draft::draftJob(name, entries), {}};
  const JobReading reading = readJob(draft.text, "job.toml");
  for (const JobFileProblem& p : reading.problems)
    ADD_FAILURE() << p.place.line << ": " << p.message << "; " << p.help << "\n" << draft.text;
  draft.job = reading.job.value_or(Job{});
  return draft;
}

Draft draftOf(const std::string& program) {
  return draftOf({{"a.nc", program}});
}

// A trap: of the heads of inch screws #6, #8 and #10 the pan with slot and square recess is the highest (ASME
// B18.6.3: 2.62, 3.05 and 3.48 mm; with a cross recess 2.46, 2.92 and 3.38; slotted 2.08, 2.44 and 2.79). On a wide
// type B washer (ANSI B18.22.1: 1.14, 1.80 and 1.80 mm) its top stands 3.76, 4.85 and 5.28 mm over the stock.
TEST(Trap, a_first_job_file_offers_the_highest_heads) {
  for (const double unit_mm : {1.0, 25.4}) {
    std::string text =
        draftOf(unit_mm == 1 ? "G21 G90 T1 M6\nG1 Z-4 F300\nX90\n" : "G20 G90 T1 M6\nG1 Z-.2 F9\nX4\n").text;
    text.erase(0, text.find("# top = "));
    const auto after = [&](const std::string& words) {
      const std::size_t at = text.find(words);
      return at == std::string::npos ? 0.0 : unit_mm * std::stod(text.substr(at + words.size()));
    };
    EXPECT_GE(after("# top = "), 3.48);
    EXPECT_GE(after("# pan head "), 3.48);
    EXPECT_GE(after("on a wide washer "), std::max({2.62 + 1.14, 3.05 + 1.80, 3.48 + 1.80}));
  }
}

TEST(DraftJob, has_a_stock_that_the_cut_fits_on) {
  // A 3 mm margin before the path on the left: as much is left on the right. The tool is 6 mm.
  const Draft draft =
      draftOf("(T1 D=6. FLAT END MILL)\nG21 G90 T1 M6\nG0 X10 Y10 Z5\nG1 Z-4.5 F300\nX90 F900\nY50\nG0 Z5\n");
  EXPECT_EQ(draft.job.stock.size_mm, (Vec3{100, 60, 4.5}));
  EXPECT_EQ(draft.job.setups.at(0).zero_mm, (SetupPoint{0, 0, 4.5}));
  EXPECT_THAT(draft.text, HasSubstr("X 10 to 90, Y 10 to 50, down to Z -4.5 mm"));
  EXPECT_THAT(draft.text, HasSubstr("Feeds 300 to 900 mm/min"));
  EXPECT_FALSE(draft.job.inches);
}

TEST(DraftJob, owns_up_to_what_it_cannot_know) {
  const Draft draft = draftOf("G21 G90 T1 M6\nG0 X10 Y10 Z5\nG1 Z-4.5 F300\nX90 F900\nY50\nG0 Z5\n");
  EXPECT_THAT(draft.text, HasSubstr("MEASURE THE STOCK.\n# The number here is only the deepest cut.\n"));
  EXPECT_THAT(draft.text, HasSubstr("without a material provecut judges no power, force or tab strength."));
  EXPECT_THAT(draft.text, HasSubstr("provecut sees only the hold-downs listed here."));
  EXPECT_THAT(draft.text, HasSubstr("# Then run: provecut check FILE\n"));
  EXPECT_THAT(draft::draftJob("board", {}, "my job.toml"), HasSubstr("# Then run: provecut check my job.toml\n"));
}

TEST(DraftJob, takes_tools_from_words_and_comments) {
  const Draft draft = draftOf(
      "(T1 D=6. CR=0. - FLAT END MILL)\n(T2 D=3 CR=1.5 - BALL END MILL)\n(T5 D=4 TAPER=135deg - DRILL)\n"
      "G21 G90\nT1 M6\nG1 X10 Z-1 F500\nT2 M6\nG1 X20\nT5 M6\nG1 X30 Z-4\nT9 M6\nG1 X40\n");
  ASSERT_THAT(draft.job.tools, SizeIs(4));
  EXPECT_EQ(draft.job.tools[0].diameter_mm, 6);
  EXPECT_EQ(draft.job.tools[1].shape, ToolShape::ball);
  EXPECT_EQ(draft.job.tools[2].shape, ToolShape::drill);
  EXPECT_EQ(draft.job.tools[2].angle_deg, 135);
  EXPECT_EQ(draft.job.tools[3].number, 9);
  EXPECT_THAT(draft.text, HasSubstr("diameter = 6                      # FILL IN"));
  EXPECT_EQ(draft.job.setups.at(0).programs.at(0).tool, 1);
}

TEST(DraftJob, gives_a_program_without_tool_words_a_tool_that_is_free) {
  const Draft draft = draftOf({{"a.nc", "G21\nG1 X10 Z-1 F500\n"},
                               {"b.nc", "G21 T1 M6\nG1 X10 Z-1 F500\n"},
                               {"c.nc", "(Tool diameter = 1.5875)\nG21\nG1 X10 Z-1 F500\n"}});
  const auto& programs = draft.job.setups.at(0).programs;
  EXPECT_EQ(programs.at(0).tool, 2);
  EXPECT_EQ(programs.at(1).tool, 1);
  EXPECT_EQ(programs.at(2).tool, 3);
  EXPECT_EQ(findTool(draft.job, 3)->diameter_mm, 1.5875);
}

TEST(DraftJob, finds_work_zero_in_the_middle_at_the_bottom_or_inside) {
  const Draft middle = draftOf("G21 G90\nG0 X-40 Y-30 Z5\nG1 Z-2 F300\nX40\nY30\n");
  EXPECT_THAT(middle.text, HasSubstr("zero = [\"center\", \"center\", \"top\"]"));
  const Draft bottom = draftOf("G21 G90\nG0 X5 Y5 Z30\nG1 Z12 F300\nX80\nG0 Z30\nX5\nG1 Z-0.2\nX60\n");
  EXPECT_THAT(bottom.text, HasSubstr("zero = [\"left\", \"front\", \"bottom\"]"));
  const Draft inside = draftOf("(T1 D=6 flat end mill)\nG21 G90\nG0 X-3 Y5 Z5\nG1 Z-2 F300\nX80\n");
  EXPECT_EQ(inside.job.setups.at(0).zero_mm.x, 16);  // 3 to the path, 3 mm of tool, 10 of margin
}

TEST(DraftJob, is_in_inches_where_all_programs_are) {
  const Draft draft = draftOf("(T1 = 1/4\" END MILL)\nG20 G90 T1 M6\nG0 X1 Y1 Z0.2\nG1 Z-0.25 F20\nX7 F60\nY3\n");
  EXPECT_TRUE(draft.job.inches);
  EXPECT_NEAR(draft.job.stock.size_mm.x, 8 * 25.4, 1e-9);
  EXPECT_NEAR(draft.job.tools.at(0).diameter_mm, 6.35, 1e-9);
  EXPECT_NEAR(draft.job.limits.min_tab_area_mm2, 0.025 * 25.4 * 25.4, 1e-6);  // 15 mm², as a usual size in inches
  EXPECT_FALSE(draftOf({{"a.nc", "G20\nG1 X1 Z-1 F5\n"}, {"b.nc", "G21\nG1 X1 Z-1 F5\n"}}).job.inches);
}

TEST(DraftJob, is_valid_when_programs_tell_nothing_or_nonsense) {
  draftOf("");
  draftOf("M30\n");
  draftOf("G21\nG1 X1e5 Y99999999 Z-99999999 F1\n");
  draftOf(
      "(T1 D=99999)\n(T2 D=0.000001 CR=5 BULL)\n(T3 D=4 TAPER=900deg DRILL)\nT1 M6\nG1 X1 Z-1 F5\nT2 M6\nG1 "
      "X2\nT3 M6\nG1 X3\nT2147483647 M6\nX4\n");
}

TEST(DraftJob, stays_valid_when_its_suggestions_are_taken) {
  std::string text = draftOf("G21\nG1 X100 Y80 Z-5 F500\n").text;
  for (const char* key : {"[[", "name", "kind", "at", "diameter", "size", "top", "travel", "max_rate", "spindle_rpm",
                          "material", "max_stepdown", "plunge_feed"}) {
    const std::string commented = "\n# " + std::string(key);
    for (std::size_t at = text.find(commented); at != std::string::npos; at = text.find(commented))
      text.erase(at + 1, 2);
  }
  text = replaced(text, "hold_downs = []", "hold_downs = [\"screw SW\", \"clamp N\"]");
  const JobReading reading = readJob(text, "job.toml");
  for (const JobFileProblem& p : reading.problems) ADD_FAILURE() << p.place.line << ": " << p.message << "\n" << text;
  ASSERT_TRUE(reading.job);
  EXPECT_THAT(reading.job->hold_downs, SizeIs(2));
  EXPECT_TRUE(reading.job->stock.material_given);
  EXPECT_EQ(reading.job->tools.at(0).max_stepdown_mm, 6);
}

TEST(DraftJob, keeps_hostile_names_and_comments_in_their_place) {
  const std::string file = "a\"]\n[x]\\ \xE2\x80\xAE.nc";
  const Draft draft = draftOf({{file, "(T1 D=6 FLAT\x1B[2J\xE2\x80\xAE END MILL)\nT1 M6\nG1 X1 Z-1 F5\n"}}, "b\"\x01");
  EXPECT_EQ(draft.job.name, "b\"" + visibleText("\x01"));
  EXPECT_EQ(draft.job.setups.at(0).programs.at(0).file, "a\"]" + visibleText("\n") + "[x]\\ \xE2\x80\xAE.nc");
  EXPECT_THAT(draft.text, Not(HasSubstr("\x1B")));
  EXPECT_THAT(draft.text, Not(HasSubstr("\xE2\x80\xAE")));
}

TEST(DraftJob, of_every_real_program_is_a_valid_job) {
  const fs::path corpus = fs::path(PROVECUT_SOURCE_DIR) / "../shared/corpus";
  if (!fs::exists(corpus)) GTEST_SKIP() << "no corpus beside the source folder";
  std::vector<std::pair<std::string, std::string>> all;
  for (const auto& entry : fs::directory_iterator(corpus)) {
    if (entry.path().extension() == ".tsv") continue;
    std::ifstream file(entry.path(), std::ios::binary);
    const std::string text{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
    SCOPED_TRACE(entry.path());
    const std::string name = entry.path().filename().string();
    const Draft draft = draftOf({{name, text}});
    EXPECT_EQ(draft.job.setups.at(0).programs.at(0).file, name);
    all.emplace_back(name, text);
  }
  EXPECT_GT(all.size(), 50u);
  draftOf(all);
}

}  // namespace
}  // namespace provecut
