// A first job file that nobody has filled in is never the start of a false "Clear": for every program that people
// exported (outside the project, in ../shared/corpus) and for those of the samples.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <regex>
#include <string>
#include <vector>

#include "parser/interpreter/interpreter.h"
#include "parser/job_file/job_file.h"
#include "report/draft/draft_job.h"
#include "tests/paths.h"
#include "tests/process.h"

namespace provecut {
namespace first_job_test {

namespace fs = std::filesystem;

std::string readFile(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::vector<fs::path> programsIn(const fs::path& folder) {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(folder)) {
    const std::string ending = entry.path().extension().string();
    if (entry.is_regular_file() && (ending == ".nc" || ending == ".ngc" || ending == ".gcode" || ending == ".tap"))
      files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  return files;
}

// What every first job file leaves open, whatever the programs say.
void expectGuessesIn(const std::string& draft) {
  const JobReading reading = readJob(draft, "job.toml");
  ASSERT_TRUE(reading.job) << draft;
  const auto guessed = [&](const std::string& whose, const std::string& key) {
    return std::any_of(reading.job->unconfirmed.begin(), reading.job->unconfirmed.end(), [&](const Unconfirmed& u) {
      return u.whose == whose && std::find(u.keys.begin(), u.keys.end(), key) != u.keys.end();
    });
  };
  EXPECT_TRUE(guessed("[stock]", "size"));
  EXPECT_TRUE(guessed("[machine]", "profile"));
  EXPECT_TRUE(guessed("setup " + reading.job->setups.at(0).name, "zero"));
  EXPECT_TRUE(guessed("setup " + reading.job->setups.at(0).name, "hold_downs"));
}

// Every mark answered, with what the draft guessed and a vacuum table: the job file is one that can be read.
void expectReadableOnceFilledIn(std::string draft) {
  draft = std::regex_replace(draft, std::regex("\nunconfirmed = [^\n]*"), "");
  draft = std::regex_replace(draft, std::regex("\n# held_by = \"vacuum\""), "\nheld_by = \"vacuum\"");
  const JobReading reading = readJob(draft, "job.toml");
  for (const JobFileProblem& p : reading.problems) ADD_FAILURE() << p.place.line << ": " << p.message << "\n" << draft;
  ASSERT_TRUE(reading.job);
  EXPECT_TRUE(reading.job->unconfirmed.empty()) << draft;
  for (const Setup& s : reading.job->setups) EXPECT_FALSE(s.hold_downs.empty()) << draft;
}

// `init` and then `check`, as a new user runs them.
void expectNotClear(const std::vector<fs::path>& programs) {
  testing::TempFolder folder;
  std::string names;
  for (const fs::path& p : programs) {
    fs::copy_file(p, folder.path() / p.filename());
    names += " '" + p.filename().string() + "'";
  }
  const testing::Ran init =
      testing::runShell(folder.path(), "'" PROVECUT_PROGRAM "' init" + names + " --output job.toml");
  if (!fs::exists(folder.path() / "job.toml")) {
    EXPECT_EQ(init.status, 2) << names;
    EXPECT_FALSE(init.err.empty()) << names;
    return;
  }
  const testing::Ran check = testing::runShell(folder.path(), "'" PROVECUT_PROGRAM "' check job.toml --format json");
  const auto report = nlohmann::json::parse(check.out, nullptr, false);
  ASSERT_FALSE(report.is_discarded()) << names << check.err;
  EXPECT_NE(report["verdict"], "clear") << names;
  EXPECT_EQ(report["complete"], false) << names;
  EXPECT_FALSE(report["not_checked"].empty()) << names;
}

TEST(FirstJob, of_the_samples_is_never_clear_before_it_is_filled_in) {
  for (const char* sample : {"cribbage-board", "cribbage-board-trouble"}) {
    const auto programs = programsIn(fs::path(PROVECUT_SOURCE_DIR) / "samples" / sample);
    ASSERT_FALSE(programs.empty()) << sample;
    expectNotClear(programs);
    for (const fs::path& one : programs) expectNotClear({one});
  }
}

TEST(FirstJob, of_every_real_program_is_never_clear_before_it_is_filled_in) {
  const fs::path folder = fs::path(PROVECUT_SOURCE_DIR) / ".." / "shared" / "corpus";
  if (!fs::exists(folder)) GTEST_SKIP() << "the exported programs are not here: " << folder;
  constexpr std::uintmax_t quick_to_check_bytes = 50'000;
  int checked = 0;
  for (const fs::path& file : programsIn(folder)) {
    SCOPED_TRACE(file.filename());
    const Program program = interpret(readFile(file));
    const draft::DraftProgram one[] = {{file.filename().string(), &program}};
    const std::string draft = draft::draftJob("job", one);
    expectGuessesIn(draft);
    expectReadableOnceFilledIn(draft);
    if (fs::file_size(file) > quick_to_check_bytes) continue;
    ++checked;
    expectNotClear({file});
  }
  EXPECT_GT(checked, 30);
}

}  // namespace first_job_test
}  // namespace provecut
