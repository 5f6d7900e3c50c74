// How real programs are read: findings that a careful reader made in their text, and what was once told there for
// nothing. The programs lie outside the project, in ../shared/corpus: without them the tests are skipped.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "tests/paths.h"
#include "tests/process.h"

namespace provecut::reading {

namespace fs = std::filesystem;

static const fs::path corpus = fs::path(PROVECUT_SOURCE_DIR) / ".." / "shared" / "corpus";

static std::string bytesOf(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

static nlohmann::json checked(const std::string& number) {
  const testing::TempFolder folder;
  for (const auto& file : fs::directory_iterator(corpus)) {
    const std::string name = file.path().filename().string();
    if (name.starts_with(number + "-")) folder.write(name, bytesOf(file.path()));
  }
  folder.write("job.toml", bytesOf(fs::path(PROVECUT_SOURCE_DIR) / "tests" / "corpus" / "jobs" / (number + ".toml")));
  return nlohmann::json::parse(
      testing::runProcess(folder.path(), {PROVECUT_PROGRAM, "check", "job.toml", "--format", "json"}).out);
}

struct Told {
  std::string rule;
  int line = 0;  // 0: any
  bool told = true;
};

struct Read {
  std::string number;
  std::vector<Told> findings;
};

class ReadProgram : public ::testing::TestWithParam<Read> {};

TEST_P(ReadProgram, is_told_as_its_text_says) {
  if (!fs::exists(corpus)) GTEST_SKIP() << "no programs at " << corpus;
  const nlohmann::json report = checked(GetParam().number);
  for (const Told& want : GetParam().findings) {
    const auto& all = report["findings"];
    const bool told = std::any_of(all.begin(), all.end(), [&](const nlohmann::json& f) {
      return f["rule"] == want.rule && (want.line == 0 || f["line"] == want.line);
    });
    EXPECT_EQ(told, want.told) << want.rule << " on line " << want.line;
  }
}

INSTANTIATE_TEST_SUITE_P(
    RealPrograms, ReadProgram,
    ::testing::Values(Read{"11", {{"tool-differs", 85}}}, Read{"20", {{"bit-sizes", 0, false}}},
                      Read{"28", {{"spindle-off", 0, false}}}, Read{"21", {{"bit-sizes", 9}}},
                      Read{"31", {{"percent-unpaired", 53}, {"end-missing", 0, false}}},
                      Read{"32", {{"tool-with-offset", 9}, {"tool-unknown", 0, false}}},
                      Read{"34", {{"machine-move", 1172}, {"controller-statement", 0, false}}},
                      Read{"46", {{"spindle-off", 13}, {"rapid-to-surface", 15}}},
                      Read{"47", {{"code-for-axis", 19}, {"machine-move", 0, false}}},
                      Read{"53", {{"setup-change", 43}, {"cut-outside-stock", 0, false}, {"air-cut", 0, false}}},
                      Read{"54", {{"setup-change", 66}, {"cut-outside-stock", 0, false}, {"air-cut", 0, false}}},
                      Read{"55",
                           {{"setup-change", 47},
                            {"cut-outside-stock", 0, false},
                            {"air-cut", 0, false},
                            {"not-followed", 178},
                            {"rapid-in-stock", 0, false}}}),
    [](const ::testing::TestParamInfo<Read>& read) { return "program_" + read.param.number; });

}  // namespace provecut::reading
