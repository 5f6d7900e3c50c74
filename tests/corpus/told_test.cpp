// What provecut tells of real programs, each with the job file that its owner would write, against a table in which
// somebody judged every finding by reading the program (told.tsv). A finding that is new or gone fails the test: read
// the program, judge it, and write or delete its row. The programs lie outside the project, in ../shared/corpus:
// without them the tests are skipped.
#include <fmt/core.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "tests/paths.h"
#include "tests/process.h"

namespace provecut::told {

namespace fs = std::filesystem;

static const fs::path corpus = fs::path(PROVECUT_SOURCE_DIR) / ".." / "shared" / "corpus";
static const fs::path here = fs::path(PROVECUT_SOURCE_DIR) / "tests" / "corpus";

struct Row {
  std::string program, level, rule, line, subject, verdict;
  std::string told() const { return fmt::format("{}\t{}\t{}\t{}\t{}", program, level, rule, line, subject); }
};

static std::vector<Row> rows() {
  std::vector<Row> all;
  std::ifstream in(here / "told.tsv");
  std::string line;
  std::getline(in, line);  // the heading
  while (std::getline(in, line)) {
    std::istringstream cells(line);
    Row row;
    for (std::string* cell : {&row.program, &row.level, &row.rule, &row.line, &row.subject, &row.verdict})
      std::getline(cells, *cell, '\t');
    all.push_back(row);
  }
  return all;
}

static std::string numberOf(const fs::path& file) {
  const std::string name = file.filename().string();
  return name.substr(0, name.find_first_of("-."));
}

static std::vector<std::string> numbers() {
  std::vector<std::string> all;
  for (const auto& job : fs::directory_iterator(here / "jobs")) all.push_back(numberOf(job.path()));
  std::sort(all.begin(), all.end());
  return all;
}

// Findings under a likely cause are told in one with it, and are no finding of their own.
static std::multiset<std::string> toldOf(const std::string& number) {
  const testing::TempFolder folder;
  fs::copy_file(here / "jobs" / (number + ".toml"), folder.path() / "job.toml");
  for (const auto& file : fs::directory_iterator(corpus)) {
    if (numberOf(file.path()) == number) fs::copy_file(file.path(), folder.path() / file.path().filename());
  }
  const auto report = nlohmann::json::parse(
      testing::runProcess(folder.path(), {PROVECUT_PROGRAM, "check", "job.toml", "--format", "json"}).out);
  std::multiset<std::string> told;
  for (const auto& f : report["findings"]) {
    if (f["likely_cause"].is_number()) continue;
    told.insert(Row{number, f["level"], f["rule"], std::to_string(f["line"].get<int>()),
                    f["subject"].is_string() ? f["subject"].get<std::string>() : "", ""}
                    .told());
  }
  return told;
}

class Told : public ::testing::TestWithParam<std::string> {};

TEST_P(Told, each_finding_of_a_real_program_was_judged_by_reading_it) {
  if (!fs::exists(corpus)) GTEST_SKIP() << "no programs at " << corpus;
  std::multiset<std::string> judged;
  for (const Row& row : rows()) {
    if (row.program == GetParam()) judged.insert(row.told());
  }
  const std::multiset<std::string> told = toldOf(GetParam());
  std::vector<std::string> fresh, gone;
  std::set_difference(told.begin(), told.end(), judged.begin(), judged.end(), std::back_inserter(fresh));
  std::set_difference(judged.begin(), judged.end(), told.begin(), told.end(), std::back_inserter(gone));
  for (const std::string& row : fresh) ADD_FAILURE() << "not judged yet:\n" << row;
  for (const std::string& row : gone) ADD_FAILURE() << "judged, but no longer told:\n" << row;
}

INSTANTIATE_TEST_SUITE_P(Programs, Told, ::testing::ValuesIn(numbers()),
                         [](const auto& number) { return "program_" + number.param; });

// The aim for programs that nobody has tuned a rule on is the same; these have been read while the rules were made.
TEST(ToldTable, no_stop_is_false_nothing_is_told_twice_and_few_looks_and_notes_are_false) {
  std::map<std::string, std::map<std::string, double>> count;
  for (const Row& row : rows()) {
    EXPECT_TRUE(row.verdict == "true" || row.verdict == "false" || row.verdict == "repeat") << row.told();
    ++count[row.level][row.verdict];
    ++count[row.level]["all"];
  }
  ASSERT_GT(count["look"]["all"], 0);
  for (const std::string level : {"stop", "look", "note"}) EXPECT_EQ(count[level]["repeat"], 0) << level;
  EXPECT_EQ(count["stop"]["false"], 0);
  EXPECT_LE(count["look"]["false"], 0.03 * count["look"]["all"]);
  EXPECT_LE(count["note"]["false"], 0.10 * count["note"]["all"]);
}

}  // namespace provecut::told
