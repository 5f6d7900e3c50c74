// The diameters that stand in programs that people exported, against what is read of them. diameters.tsv beside this
// file was written by reading every comment of every program; the programs lie outside the project, in
// ../shared/corpus.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "parser/interpreter/interpreter.h"
#include "report/draft/draft_survey.h"
#include "tests/paths.h"

namespace provecut {
namespace {

namespace fs = std::filesystem;

struct Diameter {
  int tool = 0;  // 0: the text does not say
  double mm = 0;
};

// By the first two digits of the program's name.
std::map<std::string, std::vector<Diameter>> diametersThatStandThere() {
  std::map<std::string, std::vector<Diameter>> all;
  std::ifstream in(fs::path(PROVECUT_SOURCE_DIR) / "tests/corpus/diameters.tsv");
  std::string row;
  std::getline(in, row);  // the headings
  while (std::getline(in, row)) {
    std::istringstream cells(row);
    std::string program, tool, mm;
    std::getline(cells, program, '\t');
    std::getline(cells, tool, '\t');
    std::getline(cells, mm, '\t');
    all[program].push_back({std::atoi(tool.c_str()), std::atof(mm.c_str())});
  }
  return all;
}

bool same(double a, double b) {
  return std::abs(a - b) < 1e-3;
}

class CorpusDiameters : public ::testing::Test {
 protected:
  void SetUp() override {
    const fs::path folder = fs::path(PROVECUT_SOURCE_DIR) / ".." / "shared" / "corpus";
    if (!fs::exists(folder)) GTEST_SKIP() << "the exported programs are not here: " << folder;
    for (const auto& entry : fs::directory_iterator(folder)) {
      if (entry.path().extension() == ".tsv" || entry.path().extension() == ".md") continue;
      std::ifstream in(entry.path(), std::ios::binary);
      programs_[entry.path().filename().string()] = interpret(std::string{std::istreambuf_iterator<char>(in), {}});
    }
    ASSERT_GT(programs_.size(), 50U);
  }
  std::map<std::string, Program> programs_;
};

TEST_F(CorpusDiameters, at_least_95_percent_are_read_and_none_is_wrong) {
  const auto known = diametersThatStandThere();
  int there = 0, read = 0;
  for (const auto& [file, program] : programs_) {
    const auto found = known.find(file.substr(0, 2));
    const std::vector<Diameter> stand = found == known.end() ? std::vector<Diameter>{} : found->second;
    const std::vector<draft::Described> described = draft::describedTools(program);
    for (const Diameter& d : stand) {
      ++there;
      const bool is_read = std::any_of(described.begin(), described.end(), [&](const draft::Described& said) {
        return said.comment.diameter_mm && same(*said.comment.diameter_mm, d.mm) &&
               (d.tool == 0 || said.number == d.tool);
      });
      read += is_read ? 1 : 0;
      if (!is_read) std::cout << "not read: " << file << ", tool " << d.tool << ", " << d.mm << " mm\n";
    }
    for (const draft::Described& said : described) {
      if (!said.comment.diameter_mm) continue;
      const bool stands = std::any_of(stand.begin(), stand.end(), [&](const Diameter& d) {
        return same(d.mm, *said.comment.diameter_mm) && (d.tool == 0 || said.number == 0 || said.number == d.tool);
      });
      EXPECT_TRUE(stands) << file << ": tool " << said.number << " " << *said.comment.diameter_mm << " mm from \""
                          << said.text << '"';
    }
  }
  std::cout << read << " of " << there << " diameters read\n";
  EXPECT_GE(there, 80);
  EXPECT_GE(read, 0.95 * there);
}

// What a first job file says of a tool without marking it as a guess stands in the program.
TEST_F(CorpusDiameters, a_first_job_file_has_no_diameter_that_does_not_stand_in_the_program) {
  const auto known = diametersThatStandThere();
  for (const auto& [file, program] : programs_) {
    const auto found = known.find(file.substr(0, 2));
    const draft::DraftProgram one[] = {{file, &program}};
    for (const auto& [number, tool] : draft::surveyPrograms(one).tools) {
      if (!tool.diameter_known) continue;
      ASSERT_NE(found, known.end()) << file << ": " << tool.diameter_mm;
      EXPECT_TRUE(std::any_of(
          found->second.begin(), found->second.end(),
          [&, n = number](const Diameter& d) { return same(d.mm, tool.diameter_mm) && (d.tool == 0 || d.tool == n); }))
          << file << ": tool " << number << " " << tool.diameter_mm << " mm from \"" << tool.comment << '"';
    }
  }
}

}  // namespace
}  // namespace provecut
