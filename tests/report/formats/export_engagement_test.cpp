#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <sstream>

#include "tests/report/running.h"

namespace provecut::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::StartsWith;

constexpr const char* names =
    "program,line,kind,tool,removed_mm3,axial_mm,engaged_mm,mean_radial_mm,max_radial_mm,speed_mm_min,chip_load_mm,"
    "max_chip_thickness_mm,removal_mm3_min,power_w,force_n,deflection_mm\n";

constexpr const char* slot =
    "G21 G90 G17 G94\nT1 M6\nS10000 M3\nG4 P5\nG0 X20 Y40 Z5\nG1 Z-2 F300\nX80 F1200\nG0 Z5\nM30\n";

std::vector<std::vector<std::string>> rows(const std::string& text) {
  std::vector<std::vector<std::string>> out;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    out.emplace_back();
    std::istringstream cells(line + ",");
    for (std::string cell; std::getline(cells, cell, ',');) out.back().push_back(cell);
  }
  return out;
}

TEST(ExportEngagement, gives_a_row_for_each_move) {
  const TempFolder folder;
  folder.write("a.nc", slot);
  folder.write("job.toml", smallJob({"a.nc"}));
  const Ran r = runProvecut(folder, {"export", "--engagement", "job.toml", "a.nc"});
  EXPECT_EQ(r.status, 0) << r.err;
  EXPECT_THAT(r.out, StartsWith(names));
  const auto table = rows(r.out), moves = rows(runProvecut(folder, {"export", "--moves", "a.nc"}).out);
  ASSERT_EQ(table.size(), moves.size());
  for (std::size_t i = 1; i < table.size(); ++i) {
    ASSERT_EQ(table[i].size(), table[0].size());
    EXPECT_EQ(table[i][1], moves[i][0]);
    EXPECT_EQ(table[i][2], moves[i][1]);
  }
  const auto& cut = table[table.size() - 2];
  EXPECT_EQ(cut[1], "7");
  EXPECT_NEAR(std::stod(cut[4]), 60 * 6 * 2, 4);          // removed
  EXPECT_NEAR(std::stod(cut[5]), 2, 1e-3);                // axial
  EXPECT_NEAR(std::stod(cut[7]), 6, 0.05);                // radial
  EXPECT_NEAR(std::stod(cut[11]), 1200.0 / 20000, 1e-4);  // chips of two flutes
  EXPECT_EQ(cut[13], "");                                 // no material, no power
  EXPECT_LT(std::stod(table.back()[4]), 1e-3);            // a rapid takes nothing but rounding
  EXPECT_EQ(table.back()[8], "0");
}

TEST(ExportEngagement, without_a_program_writes_the_whole_job) {
  const TempFolder folder;
  folder.write("a.nc", slot);
  folder.write("b.nc", slot);
  folder.write("job.toml", smallJob({"a.nc", "b.nc"}));
  const auto all = rows(runProvecut(folder, {"export", "--engagement", "job.toml"}).out);
  const auto second = rows(runProvecut(folder, {"export", "--engagement", "job.toml", "b.nc"}).out);
  ASSERT_FALSE(second.empty());
  EXPECT_EQ(second[1][0], "2");
  EXPECT_EQ(all.size(), 2 * second.size() - 1);
  ASSERT_FALSE(all.empty());
  EXPECT_EQ(all[1][0], "1");
  EXPECT_EQ(all.back().at(0), "2");
}

TEST(ExportEngagement, of_what_is_not_there_gives_2) {
  const TempFolder folder;
  folder.write("a.nc", slot);
  folder.write("job.toml", smallJob({"a.nc"}));
  const Ran r = runProvecut(folder, {"export", "--engagement", "job.toml", "c.nc"});
  EXPECT_EQ(r.status, 2);
  EXPECT_THAT(r.err, HasSubstr("job.toml has no program \"c.nc\""));
  EXPECT_EQ(runProvecut(folder, {"export", "--engagement", "nowhere.toml"}).status, 2);
  EXPECT_EQ(runProvecut(folder, {"export", "--moves", "a.nc", "--engagement", "job.toml"}).status, 2);
}

}  // namespace
}  // namespace provecut::testing
