// The setup sheet's words; print_sheet.py looks at it on paper.
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

constexpr std::string_view pocket =
    "G21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X50 Y40\nG1 Z-2 F300\nG1 X70 F900\nG0 Z10\nM5\nM30\n";

TEST(Sheet, tells_one_export_from_another) {
  TempFolder folder;
  folder.write("a.nc", pocket);
  folder.write("job.toml", smallJob({"a.nc"}));
  const Ran r = runProvecut(folder, {"sheet", "job.toml"});
  EXPECT_EQ(r.status, 0) << r.err;
  // sha256sum of the text above, from coreutils.
  EXPECT_THAT(r.out, AllOf(HasSubstr("a.nc"), HasSubstr(">" + std::to_string(pocket.size()) + "</td>"),
                           HasSubstr("435d25603fb6")));
}

TEST(Sheet, opens_nothing_from_outside) {
  TempFolder folder;
  folder.write("a.nc", pocket);
  folder.write("job.toml", smallJob({"a.nc"}));
  const std::string page = runProvecut(folder, {"sheet", "job.toml"}).out;
  EXPECT_THAT(page, HasSubstr("Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\""));
  EXPECT_THAT(page, AllOf(Not(HasSubstr("<script")), Not(HasSubstr("src=")), Not(HasSubstr("href=")),
                          Not(HasSubstr("@import")), Not(HasSubstr("url(http"))));
}

TEST(Sheet, says_stop_where_the_check_does) {
  TempFolder folder;
  folder.write(
      "a.nc",
      "G21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X30 Y10\nG1 Z-2 F300\nG1 X12 F900\nG0 Z10\nM5\nM30\n");
  folder.write("job.toml", smallJob({"a.nc"}));
  EXPECT_THAT(runProvecut(folder, {"sheet", "job.toml"}).out,
              AllOf(HasSubstr("Stop.</span> Do not run this job as it is."), HasSubstr("<span>Stop</span> a.nc:8:"),
                    HasSubstr("into SW")));
}

// Pins and tape are under the stock.
TEST(Sheet, puts_the_pins_in_before_the_stock_goes_on_them) {
  TempFolder folder;
  folder.write("a.nc", pocket);
  folder.write(
      "job.toml",
      "version = 1\n[stock]\nsize = [100, 80, 10]\n[[tool]]\nnumber = 1\nshape = \"flat\"\ndiameter = 6\n"
      "[[hold_down]]\nname = \"pin W\"\nkind = \"pin\"\nat = [10, 40]\ndiameter = 6\ndepth_in_stock = 5\n"
      "[[hold_down]]\nname = \"clamp N\"\nkind = \"clamp\"\nat = [50, 85]\nsize = [20, 20]\ntop = 15\n"
      "[[setup]]\nname = \"front\"\nzero = [\"left\", \"front\", \"top\"]\nhold_downs = [\"clamp N\"]\n"
      "[[setup.program]]\nfile = \"a.nc\"\n"
      "[[setup]]\nname = \"back\"\nflip = \"left-right\"\nzero = [\"left\", \"front\", \"top\"]\n"
      "hold_downs = [\"clamp N\", \"pin W\"]\n[[setup.program]]\nfile = \"a.nc\"\n"
      "[[setup]]\nname = \"bare\"\nzero = [\"left\", \"front\", \"top\"]\n[[setup.program]]\nfile = \"a.nc\"\n");
  const Ran r = runProvecut(folder, {"sheet", "job.toml"});
  const std::string& page = r.out;
  const std::size_t second = page.find("Setup 2 of 3"), third = page.find("Setup 3 of 3");
  ASSERT_NE(third, std::string::npos) << r.err;
  const std::string back = page.substr(second, third - second), bare = page.substr(third);
  std::size_t before = 0;
  for (const char* step :
       {"Spindle stopped.", "Remove all hold-downs", "Put <strong>pin W</strong> into the spoilboard",
        "Flip the stock <strong>left to right</strong> and place it on the pins", "fit <strong>clamp N</strong>"}) {
    const std::size_t at = back.find(step, before);
    ASSERT_NE(at, std::string::npos) << step;
    before = at;
  }
  EXPECT_THAT(bare, AllOf(HasSubstr("nothing was checked against any"), HasSubstr("Hold the stock down")));
}

TEST(Sheet, has_the_spindle_stopped_for_hands_between_two_runs) {
  TempFolder folder;
  folder.write("a.nc", pocket);
  folder.write("job.toml",
               "version = 1\n[stock]\nsize = [100, 80, 10]\n[[tool]]\nnumber = 1\nshape = \"flat\"\ndiameter = 6\n"
               "[[hold_down]]\nname = \"N\"\nkind = \"clamp\"\nat = [50, 85]\nsize = [20, 20]\ntop = 15\n"
               "[[hold_down]]\nname = \"S\"\nkind = \"clamp\"\nat = [50, -5]\nsize = [20, 20]\ntop = 15\n"
               "[[setup]]\nname = \"front\"\nzero = [\"left\", \"front\", \"top\"]\nhold_downs = [\"N\"]\n"
               "[[setup.program]]\nfile = \"a.nc\"\n[[setup.program]]\nfile = \"a.nc\"\nhold_downs = [\"S\"]\n");
  EXPECT_THAT(runProvecut(folder, {"sheet", "job.toml"}).out,
              HasSubstr("<strong>Spindle stopped.</strong> Fit <strong>S</strong>, then remove <strong>N</strong>"));
}

// Whoever follows the steps must have met what stands against them.
TEST(Sheet, lists_what_to_clear_before_the_steps) {
  TempFolder folder;
  folder.write(
      "a.nc",
      "G21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X30 Y10\nG1 Z-2 F300\nG1 X12 F900\nG0 Z10\nM5\nM30\n");
  folder.write("job.toml", smallJob({"a.nc"}));
  const std::string page = runProvecut(folder, {"sheet", "job.toml"}).out;
  ASSERT_NE(page.find("<h2>Before you run</h2>"), std::string::npos);
  EXPECT_LT(page.find("<h2>Before you run</h2>"), page.find("<h2>In this order</h2>"));
}

TEST(Sheet, asks_for_z_again_after_a_change_of_tool_only) {
  TempFolder folder;
  folder.write("a.nc", pocket);
  folder.write("b.nc", pocket);
  folder.write("job.toml", smallJob({"a.nc", "b.nc"}));
  const std::string same = runProvecut(folder, {"sheet", "job.toml"}).out;
  EXPECT_THAT(same, AllOf(HasSubstr("Set X, Y and Z zero"), Not(HasSubstr("Set Z zero again"))));
}

std::string dialled(std::string_view machine, std::string_view program, std::string_view tool = "") {
  TempFolder folder;
  folder.write("a.nc", program);
  std::string job = smallJob({"a.nc"}, std::string("[machine]\n").append(machine));
  job.insert(job.find("stickout"), tool);
  folder.write("job.toml", job);
  return runProvecut(folder, {"sheet", "job.toml"}).out;
}

TEST(Sheet, a_spindle_switched_by_hand_is_dialled_and_switched_on_before_the_program_and_off_after_it) {
  const std::string page = dialled("spindle = \"by-hand\"\n", pocket);
  const std::size_t zero = page.find("Set X, Y and Z zero"), dial = page.find("Dial <strong>12,000 rpm</strong>"),
                    on = page.find("switch the spindle on"), run = page.find("Run 1: a.nc"),
                    off = page.find("Switch the spindle off");
  ASSERT_NE(off, std::string::npos) << page;
  EXPECT_LT(zero, dial);
  EXPECT_LT(dial, on);
  EXPECT_LT(on, run);
  EXPECT_LT(run, off);
}

TEST(Sheet, the_speed_to_dial_is_the_tools_own_where_the_job_file_gives_one) {
  const std::string page = dialled("speed = \"by-hand\"\n", pocket, "rpm = 16000\n");
  EXPECT_THAT(page, AllOf(HasSubstr("Dial <strong>16,000 rpm</strong>"), Not(HasSubstr("switch the spindle on"))));
}

TEST(Sheet, a_speed_that_nobody_gives_is_asked_for) {
  std::string program(pocket);
  program.erase(program.find(" S12000"), 7);
  EXPECT_THAT(dialled("speed = \"by-hand\"\n", program),
              HasSubstr("Set the speed on the dial (neither the program nor the job file gives one)"));
}

TEST(Sheet, a_spindle_that_the_program_drives_has_no_steps_of_its_own) {
  EXPECT_THAT(dialled("spindle = \"program\"\n", pocket),
              AllOf(Not(HasSubstr("Dial")), Not(HasSubstr("switch the spindle on"))));
}

}  // namespace
}  // namespace provecut
