// Whole files: the same ones are checked against the published schema.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>

#include "parser/job_file/job_file.h"
#include "tests/paths.h"

namespace provecut {
namespace {

namespace fs = std::filesystem;

JobReading readFile(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  const std::string text{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
  return readJob(text, path.filename().string());
}

TEST(JobFiles, that_are_good_are_read_without_a_complaint) {
  int count = 0;
  for (const auto& entry : fs::directory_iterator(PROVECUT_SOURCE_DIR "/tests/parser/job_file/files/good")) {
    const JobReading reading = readFile(entry.path());
    EXPECT_TRUE(reading.job) << entry.path();
    for (const JobFileProblem& p : reading.problems)
      ADD_FAILURE() << entry.path() << ":" << p.place.line << ": " << p.message;
    ++count;
  }
  EXPECT_GE(count, 7);
}

TEST(JobFiles, that_are_bad_get_one_complaint_each) {
  int count = 0;
  for (const auto& entry : fs::directory_iterator(PROVECUT_SOURCE_DIR "/tests/parser/job_file/files/bad")) {
    const JobReading reading = readFile(entry.path());
    EXPECT_FALSE(reading.job) << entry.path();
    EXPECT_EQ(reading.problems.size(), 1u) << entry.path();
    ++count;
  }
  EXPECT_GE(count, 21);
}

TEST(JobFiles, of_the_samples_are_good) {
  int count = 0;
  for (const auto& entry : fs::directory_iterator(PROVECUT_SOURCE_DIR "/samples")) {
    const fs::path job = entry.path() / "job.toml";
    if (!fs::exists(job)) continue;
    const JobReading reading = readFile(job);
    EXPECT_TRUE(reading.job) << job;
    for (const JobFileProblem& p : reading.problems) ADD_FAILURE() << job << ":" << p.place.line << ": " << p.message;
    ++count;
  }
  EXPECT_GE(count, 2);
}

}  // namespace
}  // namespace provecut
