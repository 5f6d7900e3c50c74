// One wrong word in the job files of real programs, each checked as a whole. The programs lie outside the project, in
// ../shared/corpus: without them the tests are skipped.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <set>
#include <string>

#include "tests/paths.h"
#include "tests/process.h"

namespace provecut::planted {

namespace fs = std::filesystem;

static const fs::path corpus = fs::path(PROVECUT_SOURCE_DIR) / ".." / "shared" / "corpus";
static const fs::path jobs = fs::path(PROVECUT_SOURCE_DIR) / "tests" / "corpus" / "jobs";

static std::string bytesOf(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

struct Planted {
  std::string number;    // of the program
  bool in_program;       // else in the job file
  std::string from, to;  // each place
  std::string kind, question;
};

static void replaceAll(std::string& text, const std::string& from, const std::string& to) {
  if (from.empty()) return;
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
    text.replace(at, from.size(), to);
}

static nlohmann::json checkedWith(const Planted& planted) {
  const testing::TempFolder folder;
  std::string job = bytesOf(jobs / (planted.number + ".toml"));
  for (const auto& file : fs::directory_iterator(corpus)) {
    const std::string name = file.path().filename().string();
    if (!name.starts_with(planted.number + "-")) continue;
    std::string program = bytesOf(file.path());
    if (planted.in_program) replaceAll(program, planted.from, planted.to);
    folder.write(name, program);
  }
  if (!planted.in_program) replaceAll(job, planted.from, planted.to);
  folder.write("job.toml", job);
  return nlohmann::json::parse(
      testing::runProcess(folder.path(), {PROVECUT_PROGRAM, "check", "job.toml", "--format", "json"}).out);
}

class PlantedCause : public ::testing::TestWithParam<Planted> {};

TEST_P(PlantedCause, is_named_first) {
  if (!fs::exists(corpus)) GTEST_SKIP() << "no programs at " << corpus;
  const nlohmann::json causes = checkedWith(GetParam())["likely_causes"];
  ASSERT_FALSE(causes.empty());
  EXPECT_EQ(causes[0]["kind"], GetParam().kind);
  EXPECT_EQ(causes[0]["question"], GetParam().question);
}

INSTANTIATE_TEST_SUITE_P(
    InRealPrograms, PlantedCause,
    ::testing::Values(
        Planted{"26", false, "\"top\"]", "\"bottom\"]", "zero-face", "Is Z zero on the top of the stock?"},
        Planted{"16", false, "\"top\"]", "\"bottom\"]", "zero-face", "Is Z zero on the top of the stock?"},
        Planted{"41", true, "G21", "G20", "unit", "Is 41-clutch-cover-tap.tap in mm?"},
        Planted{"13", true, "G21", "G20", "unit", "Is 13-plywood-parts-numbered-crlf.nc in mm?"},
        Planted{"26", false, "[\"left\"", "[\"right\"", "zero-corner", "Is X/Y zero at the stock's front left corner?"},
        Planted{"26", false, "[78, 1420, 27]", "[1420, 78, 27]", "stock-turned",
                "Does the 78 mm side of the stock lie along X?"},
        Planted{"25", false, "[640, 2020, 100]", "[640, 2020, 50]", "thickness", "Is the stock 102 mm thick or more?"},
        // Not planted: this exporter writes the centres of its arcs as places.
        Planted{"50", false, "", "", "arc-centres",
                "Are I and J of the arcs absolute positions, not distances from the arc's start?"}),
    [](const ::testing::TestParamInfo<Planted>& planted) {
      std::string name = planted.param.kind + "_" + planted.param.number;
      replaceAll(name, "-", "_");
      return name;
    });

TEST(LikelyCausesInRealPrograms, all_stops_of_misread_arcs_are_told_under_them_and_what_stays_is_told_in_full) {
  if (!fs::exists(corpus)) GTEST_SKIP() << "no programs at " << corpus;
  std::set<std::string> under, in_full;
  const nlohmann::json report = checkedWith({"50", false, "", "", "", ""});
  for (const auto& f : report["findings"]) {
    EXPECT_TRUE(f["level"] != "stop" || f["likely_cause"] == 0) << f["message"];
    if (f["level"] != "note") (f["likely_cause"] == 0 ? under : in_full).insert(f["rule"].get<std::string>());
  }
  // No part is free where the cut reads nonsense.
  EXPECT_TRUE(under.contains("arc-radius") && under.contains("part-free") && under.contains("travel-exceeded"));
  // Its tabs are 0.4 mm thick and M26 is a code of one machine, whatever the arcs mean.
  EXPECT_TRUE(in_full.contains("tabs-weak") && in_full.contains("machine-function-unknown"));
}

TEST(LikelyCausesInRealPrograms, jobs_as_their_owners_would_write_them_have_none) {
  if (!fs::exists(corpus)) GTEST_SKIP() << "no programs at " << corpus;
  for (const char* number : {"01", "25", "26", "41", "44", "46", "55"}) {
    const nlohmann::json report = checkedWith({number, false, "", "", "", ""});
    EXPECT_EQ(report["likely_causes"], nlohmann::json::array()) << number;
  }
}

}  // namespace provecut::planted
