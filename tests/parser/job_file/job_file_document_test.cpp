#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "parser/job_file/job_file.h"
#include "tests/parser/job_file/design_job.h"
#include "tests/parser/job_file/marked_text.h"

namespace provecut {
namespace {

using testing::HasSubstr;
using testing::SizeIs;

JobFileProblem onlyProblem(const std::string& text) {
  const JobReading reading = readJob(text, "job.toml");
  EXPECT_FALSE(reading.job);
  EXPECT_THAT(reading.problems, SizeIs(1));
  return reading.problems.empty() ? JobFileProblem{} : reading.problems[0];
}

TEST(JobFileText, that_is_binary_is_said_to_be_so) {
  const JobFileProblem p = onlyProblem(std::string("version = 1\nab\0cd", 17));
  EXPECT_THAT(p.message, HasSubstr("not a text file"));
  EXPECT_EQ(p.place, (Place{2, 3, 4}));
}

TEST(JobFileText, that_is_not_utf8_is_marked_at_the_byte) {
  const JobFileProblem p = onlyProblem("version = 1\nname = \"Br\xFCgge\"\n");  // ü in Latin-1
  EXPECT_THAT(p.message, HasSubstr("not UTF-8"));
  EXPECT_EQ(p.place, (Place{2, 11, 12}));
}

TEST(JobFileText, in_utf16_is_said_to_be_so) {
  EXPECT_THAT(onlyProblem(std::string("\xFF\xFEv\0e\0", 6)).message, HasSubstr("UTF-16"));
}

TEST(JobFileText, of_a_hundred_megabytes_is_turned_away_unread) {
  EXPECT_EQ(onlyProblem(std::string(100'000'000, ' ')).message,
            "this file has 100 MB, too much for a job file (maximum 4 MB)");
}

TEST(JobFileText, nested_a_hundred_thousand_deep_is_an_error_and_no_crash) {
  EXPECT_THAT(onlyProblem("version = " + std::string(100'000, '[')).message, HasSubstr("not valid TOML"));
}

TEST(JobFileText, that_is_empty_lacks_all_that_is_required) {
  EXPECT_THAT(messagesOf(readJob("", "job.toml").problems),
              testing::ElementsAre(HasSubstr("no `version`"), HasSubstr("no `stock`"), HasSubstr("no `setup`")));
}

TEST(JobFileText, that_is_a_program_is_not_taken_for_a_job) {
  EXPECT_THAT(onlyProblem("G21 G90\nG0 X0 Y0\n").message, HasSubstr("not valid TOML"));
}

// What people get wrong in a line, and what is said of it.
TEST(JobFileText, with_a_line_that_cannot_be_read_says_what_is_wrong_with_it) {
  const auto said = [](const std::string& line) { return onlyProblem("version = 1\n" + line + "\n").message; };
  EXPECT_EQ(said("units = mm"), "this value cannot be read");
  EXPECT_EQ(said("units = inch"), "this value cannot be read");
  EXPECT_EQ(said("size = 480x130x19"), "this number cannot be read");
  EXPECT_EQ(said("version_2 = 1.2.3"), "this number cannot be read");
  EXPECT_EQ(said("clearance = 3 mm"), "this line goes on after its value");
  EXPECT_EQ(said("clearance = 3,5"), "this line goes on after its value");
  EXPECT_EQ(said("clearance = .5"), "a number needs a digit on both sides of its point");
  EXPECT_EQ(said("clearance = 5."), "a number needs a digit on both sides of its point");
  EXPECT_EQ(said("clearance = 05"), "a number cannot start with 0");
  EXPECT_EQ(said("name ="), "this line has no value");
  EXPECT_EQ(said("name = \"board"), "the text on this line has no closing quote");
  EXPECT_EQ(said("name = \"C:\\jobs\\board\""), "text in \"quotes\" cannot have a single \\ in it");
  EXPECT_EQ(said("version = 1"), "`version` is in its section twice");
}

TEST(JobFileText, with_a_section_twice_says_so) {
  EXPECT_EQ(onlyProblem("[limits]\ncell = 1\n[limits]\nclearance = 3\n").message, "[limits] is in the file twice");
  EXPECT_THAT(onlyProblem("[hold_down]\nname = \"a\"\n[hold_down]\nname = \"b\"\n").help,
              HasSubstr("write [[hold_down]] for each"));
  EXPECT_EQ(onlyProblem("[[tool]]\nnumber = 1\n[tool]\nnumber = 2\n").message,
            "[tool] and [[tool]] are both in the file");
  EXPECT_EQ(onlyProblem("[tool]\nnumber = 1\n[[tool]]\nnumber = 2\n").message,
            "[tool] and [[tool]] are both in the file");
}

TEST(JobFileText, may_start_with_a_byte_order_mark_and_end_lines_with_carriage_returns) {
  std::string text = "\xEF\xBB\xBF" + cribbageJob();
  for (std::size_t i = text.find('\n'); i != std::string::npos; i = text.find('\n', i + 2)) text.insert(i, 1, '\r');
  const JobReading reading = readJob(text, "job.toml");
  ASSERT_TRUE(reading.job);
  EXPECT_EQ(reading.job->tools[0].place, (Place{29, 1, 9}));
  const std::string wrong = replaced(text, "version", "versoin");
  const JobReading misread = readJob(wrong, "job.toml");
  ASSERT_THAT(misread.problems, SizeIs(1));  // the key under its wrong name, not a missing version beside it
  EXPECT_EQ(markedText(wrong, misread.problems[0].place), "versoin");
}

TEST(JobFileText, in_inline_tables_reads_the_same) {
  const JobReading reading = readJob(
      "version = 1\nstock = { size = [10, 10, 5] }\n"
      "setup = [ { name = \"front\", program = [ { file = \"a.nc\" } ] } ]\n",
      "job.toml");
  ASSERT_TRUE(reading.job);
  EXPECT_EQ(reading.job->setups.at(0).programs.at(0).file, "a.nc");
}

TEST(JobFileText, of_four_megabytes_is_read_and_a_byte_more_is_not) {
  constexpr std::size_t limit = 4'000'000;
  std::string text = cribbageJob() + "\n#";
  text.resize(limit, '-');
  EXPECT_TRUE(readJob(text, "job.toml").job);
  EXPECT_THAT(onlyProblem(text + "-").message, HasSubstr("4.1 MB"));
}

}  // namespace
}  // namespace provecut
