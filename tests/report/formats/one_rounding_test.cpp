// One number has one rounding, whichever output it is read in.
#include <gmock/gmock.h>

#include <string>
#include <vector>

#include "tests/report/running.h"

namespace provecut {
namespace {

using ::testing::AllOf;
using ::testing::AnyOf;
using ::testing::HasSubstr;
using ::testing::Not;
using testing::runProvecut;
using testing::smallJob;
using testing::TempFolder;

std::string replaced(std::string text, std::string_view what, std::string_view by) {
  const std::size_t at = text.find(what);
  return at == std::string::npos ? std::string() : text.replace(at, what.size(), by);
}

// A 1/8 in cutter, 1/16 in at a pass, cuts 1/8 in deep beside a screw at 3/8 in.
struct EighthOfAnInch {
  TempFolder folder;
  EighthOfAnInch();
  std::string run(std::vector<std::string> arguments) const {
    arguments.emplace_back("job.toml");
    return runProvecut(folder, arguments).out;
  }
};

EighthOfAnInch::EighthOfAnInch() {
  folder.write("a.nc",
               "G21 G90 G17 G94 G54\nT1 M6\nM3 S18000\nG4 P5\nG0 Z10\nG0 X50 Y40\nG1 Z-3.175 F300\nG1 X70 F1200\n"
               "G0 Z10\nM5\nM30\n");
  std::string job = smallJob({"a.nc"});
  job = replaced(std::move(job), "diameter = 6\n", "diameter = 3.175\nmax_stepdown = 1.5875\n");
  job = replaced(std::move(job), "shank_diameter = 6\n", "shank_diameter = 3.175\n");
  job = replaced(std::move(job), "at = [10, 10]", "at = [9.525, 9.525]");
  folder.write("job.toml", job);
}

TEST(OneRounding, inch_sizes_read_alike_in_findings_and_summary) {
  const EighthOfAnInch job;
  EXPECT_THAT(job.run({"check", "--quiet"}), HasSubstr("3.175 mm deep in one pass (maximum 1.5875 mm)"));
  const std::string text = job.run({"check"});
  EXPECT_THAT(text, HasSubstr("  3.175 mm"));  // the table's deepest cut
  EXPECT_THAT(text, Not(AnyOf(HasSubstr("3.17 mm"), HasSubstr("3.18 mm"))));
}

TEST(OneRounding, and_on_the_setup_sheet) {
  const std::string sheet = EighthOfAnInch().run({"sheet"});
  EXPECT_THAT(sheet, AllOf(HasSubstr(">3.175</td>"), HasSubstr(">9.525</td>"), HasSubstr(">9.525</text>")));
  EXPECT_THAT(sheet, Not(AnyOf(HasSubstr(">3.18<"), HasSubstr(">3.17<"), HasSubstr(">9.53<"), HasSubstr(">9.52<"))));
}

TEST(OneRounding, and_where_hold_downs_can_go) {
  EXPECT_THAT(EighthOfAnInch().run({"place"}),
              AllOf(HasSubstr("SW at X 9.525 Y 9.525"), HasSubstr("part of the tool by 3 mm.")));
}

TEST(OneRounding, speeds_and_feeds_show_their_thousands_on_the_sheet_too) {
  EXPECT_THAT(EighthOfAnInch().run({"sheet"}), HasSubstr("18,000 rpm, 300 to 1,200 mm/min"));
}

}  // namespace
}  // namespace provecut
