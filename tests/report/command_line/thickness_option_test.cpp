// `provecut check --thickness`: what the stock measures, in place of what the job file says.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/report/running.h"

namespace provecut::testing {
namespace {

using ::testing::HasSubstr;

// A slot through the stock of 10 mm (smallJob) by 0.2 mm, zero on top.
struct Bench {
  TempFolder folder;
  Bench() {
    folder.write("a.nc",
                 "G21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X50 Y40\nG1 Z-5 F300\nG1 X70 F900\nG1 "
                 "Z-10.2 F300\nG1 X50 "
                 "F900\nG0 Z10\nM5\nM30\n");
    folder.write("job.toml", smallJob({"a.nc"}));
  }
  Ran check(std::vector<std::string> more) const {
    more.insert(more.begin(), {"check", "job.toml"});
    return runProvecut(folder, more);
  }
};

TEST(ThicknessOption, a_thicker_stock_is_cut_less_far_through) {
  const Bench b;
  const auto json = nlohmann::json::parse(b.check({"--thickness", "10.7", "--format", "json"}).out);
  bool told = false;
  for (const auto& f : json["findings"]) {
    EXPECT_NE(f["rule"], "floor-thin");  // it was to go through
    if (f["rule"] == "through-cut-short") {
      told = true;
      EXPECT_NEAR(f["amount"].get<double>(), 0.5, 1e-4);
    }
  }
  EXPECT_TRUE(told);
  EXPECT_THAT(b.check({"--thickness", "10.7mm"}).out, HasSubstr("as measured (job file: 10 mm thick)"));
}

TEST(ThicknessOption, a_unit_may_stand_behind_it) {
  const Bench b;
  EXPECT_EQ(b.check({"--thickness", "10.16"}).out, b.check({"--thickness", "0.4in"}).out);
}

TEST(ThicknessOption, what_cannot_be_meant_gives_2) {
  const Bench b;
  for (const char* bad : {"0", "-1", "thick", "107", "4", "0.4"})
    EXPECT_EQ(b.check({"--thickness", bad}).status, 2) << bad;
  const Ran alone =
      runProvecut(b.folder, {"check", "a.nc", "--stock", "100x80x10mm", "--tool", "1=flat,6mm", "--thickness", "10.7"});
  EXPECT_EQ(alone.status, 2);
  EXPECT_THAT(alone.err, HasSubstr("--thickness goes with one job file"));
}

}  // namespace
}  // namespace provecut::testing
