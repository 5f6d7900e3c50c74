// The words of `provecut place`.
#include <gmock/gmock.h>

#include "tests/report/running.h"

namespace provecut {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::Not;
using testing::Ran;
using testing::runProvecut;
using testing::smallJob;
using testing::TempFolder;

// A slot in the stock that ends at `x`, on the line of the screw SW: its head's edge is at X 15, the tool's radius 3.
Ran placed(const std::string& x) {
  TempFolder folder;
  folder.write("a.nc", "G21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X60 Y10\nG1 Z-2 F300\nG1 X" + x +
                           " F900\nG0 Z10\nM5\nM30\n");
  folder.write("job.toml", smallJob({"a.nc"}));
  return runProvecut(folder, {"place", "job.toml"});
}

// The rule's words are "hit", "too close" and nothing else; 3 mm are to be kept.
TEST(PlaceText, speaks_of_hold_downs_as_the_findings_do) {
  EXPECT_THAT(placed("30").out, AllOf(HasSubstr("clear"), Not(HasSubstr("CLOSE")), Not(HasSubstr("HIT"))));
  EXPECT_THAT(placed("20").out, AllOf(HasSubstr("CLOSE"), Not(HasSubstr("NEAR"))));
  EXPECT_THAT(placed("15").out, AllOf(HasSubstr("HIT"), HasSubstr("hold-downs that are hit or too close")));
}

TEST(PlaceText, calls_a_size_of_hold_downs_a_type_and_a_distance_by_what_it_is) {
  const std::string out = placed("30").out;
  EXPECT_THAT(out, AllOf(HasSubstr("type A: 10 mm screw, top 4 mm (SW)"), Not(HasSubstr("form A"))));
  EXPECT_THAT(out, HasSubstr("Kept clear of every part of the tool by 3 mm."));
}

}  // namespace
}  // namespace provecut
