// The words of `provecut place`.
#include <gmock/gmock.h>

#include <algorithm>
#include <filesystem>

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
Ran placed(const std::string& x, const std::string& format = "text") {
  TempFolder folder;
  folder.write("a.nc", "G21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X60 Y10\nG1 Z-2 F300\nG1 X" + x +
                           " F900\nG0 Z10\nM5\nM30\n");
  folder.write("job.toml", smallJob({"a.nc"}));
  return runProvecut(folder, {"place", "job.toml", "--format", format});
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

// Pins are under the stock, and it is flipped before anything is fitted on it.
TEST(PlaceText, lists_the_steps_of_a_flip_in_the_order_in_which_they_are_done) {
  TempFolder folder;
  folder.write("a.nc",
               "G21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X60 Y40\nG1 Z-2 F300\nG1 X50 F900\nG0 "
               "Z10\nM5\nM30\n");
  folder.write("job.toml",
               "version = 1\n[stock]\nsize = [100, 80, 10]\n[[tool]]\nnumber = 1\nshape = \"flat\"\ndiameter = 6\n"
               "[[hold_down]]\nname = \"clamp N\"\nkind = \"clamp\"\nat = [50, 85]\nsize = [20, 20]\ntop = 15\n"
               "[[hold_down]]\nname = \"pin W\"\nkind = \"pin\"\nat = [10, 40]\ndiameter = 6\ndepth_in_stock = 5\n"
               "[[setup]]\nname = \"front\"\nzero = [\"left\", \"front\", \"top\"]\nhold_downs = [\"clamp N\"]\n"
               "[[setup.program]]\nfile = \"a.nc\"\n"
               "[[setup]]\nname = \"back\"\nflip = \"left-right\"\nzero = [\"left\", \"front\", \"top\"]\n"
               "hold_downs = [\"clamp N\", \"pin W\"]\n[[setup.program]]\nfile = \"a.nc\"\n");
  const Ran r = runProvecut(folder, {"place", "job.toml"});
  std::string out = r.out;
  std::replace(out.begin(), out.end(), '\n', ' ');
  for (std::size_t at; (at = out.find("  ")) != std::string::npos;) out.erase(at, 1);  // lines break where they like
  std::size_t before = 0;
  for (const char* step : {"Before each program", "fit clamp N", "back", "remove all hold-downs; put pin W",
                           "into the spoilboard; flip the stock left to right onto them"}) {
    const std::size_t at = out.find(step, before);
    ASSERT_NE(at, std::string::npos) << step << " in\n" << r.out << r.err;
    before = at;
  }
}

TEST(PlaceText, hold_downs_that_stay_are_no_step) {
  TempFolder folder;
  const std::string program = "G21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X60 Y40\nG1 Z-2 F300\nM30\n";
  folder.write("a.nc", program);
  folder.write("b.nc", program);
  folder.write("job.toml", smallJob({"a.nc", "b.nc"}));
  const std::string out = runProvecut(folder, {"place", "job.toml"}).out;
  EXPECT_THAT(out, AllOf(HasSubstr("a.nc: fit SW"), HasSubstr("b.nc: no change"), Not(HasSubstr("remove SW"))));
}

// 2.99996 mm of the 3 that are wanted.
TEST(PlaceJson, what_is_too_close_does_not_read_as_enough) {
  EXPECT_THAT(placed("20.99996", "json").out,
              AllOf(HasSubstr("\"state\":\"close\""), HasSubstr("\"clearance_mm\":2.9999")));
}

// A screw, and a program that planes the whole stock.
TEST(PlaceText, where_no_spot_is_free_it_says_what_else_holds_the_stock) {
  TempFolder folder;
  std::string planing = "G21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X-5 Y-5\nG1 Z-1 F300\n";
  for (int y = -5; y <= 85; y += 4)
    planing += "G1 Y" + std::to_string(y) + " F900\nG1 X" + (y % 8 == 3 || y % 8 == -5 ? "105\n" : "-5\n");
  folder.write("a.nc", planing + "G0 Z10\nM5\nM30\n");
  folder.write("job.toml", smallJob({"a.nc"}));
  const Ran r = runProvecut(folder, {"place", "job.toml"});
  std::string out = r.out;
  std::replace(out.begin(), out.end(), '\n', ' ');
  for (std::size_t at; (at = out.find("  ")) != std::string::npos;) out.erase(at, 1);
  EXPECT_THAT(out, AllOf(HasSubstr("front, type A, a.nc: none"), HasSubstr("do not fit SW"),
                         HasSubstr("a.nc: no spot is free for any of its hold-downs, so nothing would hold the stock. "
                                   "Hold it by tape or vacuum from below.")));
  EXPECT_EQ(r.status, 1);
}

TEST(PlaceText, lists_spots_to_choose_from) {
  // A slot across the middle: the corners are free. The head of 10 mm stays wholly on the stock.
  EXPECT_THAT(placed("30").out, HasSubstr("front, type A, a.nc: X 5 Y 5; X 95 Y 5; X 95 Y 75; X 5 Y 75"));
}

TEST(PlacePictures, are_named_for_setup_and_program_and_no_two_alike) {
  TempFolder folder;
  const std::string program = "G21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X60 Y40\nG1 Z-2 F300\nM30\n";
  for (const char* file : {"side_1.nc", "b c.nc", "b-c.nc"}) folder.write(file, program);
  folder.write("job.toml", smallJob({"side_1.nc", "b c.nc", "b-c.nc"}));
  ASSERT_LE(runProvecut(folder, {"place", "job.toml", "--format", "svg", "--output", "out/"}).status, 1);
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(folder.path() / "out"))
    names.push_back(entry.path().filename().string());
  std::sort(names.begin(), names.end());
  ASSERT_EQ(names.size(), 3u);
  EXPECT_THAT(names[0], AllOf(::testing::StartsWith("2-"), ::testing::EndsWith("b-c.svg")));
  EXPECT_THAT(names[1], AllOf(::testing::StartsWith("3-"), ::testing::EndsWith("b-c.svg")));
  EXPECT_THAT(names[2], ::testing::EndsWith("-side_1.svg"));
}

}  // namespace
}  // namespace provecut
