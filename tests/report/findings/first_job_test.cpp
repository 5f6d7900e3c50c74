// From `init` to `check`: what nobody confirmed is never clear.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "tests/report/running.h"

namespace provecut::testing {
namespace first_job_test {

using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::Not;

constexpr std::string_view clean_program =
    "(T1 D=6 flat end mill)\nG21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X50 Y40\nG1 Z-2 F300\nG1 X70 "
    "F900\nG0 Z10\nM5\nM30\n";

nlohmann::json checked(const TempFolder& folder) {
  return nlohmann::json::parse(runProvecut(folder, {"check", "job.toml", "--format", "json"}).out);
}

std::string allOf(const nlohmann::json& list) {
  std::string text;
  for (const auto& item : list) text += item.get<std::string>() + "\n";
  return text;
}

TEST(FirstJob, that_nobody_filled_in_is_not_clear_and_says_what_it_guessed) {
  TempFolder folder;
  folder.write("a.nc", clean_program);
  ASSERT_EQ(runProvecut(folder, {"init", "a.nc", "--output", "job.toml"}).status, 0);
  const auto report = checked(folder);
  EXPECT_EQ(report["verdict"], "look");
  EXPECT_EQ(report["complete"], false);
  const std::string missing = allOf(report["not_checked"]);
  EXPECT_THAT(missing, AllOf(HasSubstr("size and grain of [stock] are only guessed"),
                             HasSubstr("flutes, flute_length, shank_diameter and stickout of tool 1 are only guessed"),
                             HasSubstr("zero and hold_downs of setup front are only guessed"),
                             HasSubstr("does not say what holds the stock")));
  // The comment gives the diameter: that is no guess.
  EXPECT_THAT(missing, Not(HasSubstr("diameter, flutes")));
}

TEST(FirstJob, that_is_filled_in_may_be_clear) {
  TempFolder folder;
  folder.write("a.nc", clean_program);
  folder.write("job.toml", smallJob({"a.nc"}));
  EXPECT_EQ(checked(folder)["verdict"], "clear");
  folder.write("job.toml", smallJob({"a.nc"}, "[spoilboard]\nthickness = 18\nunconfirmed = [\"thickness\"]\n"));
  EXPECT_EQ(checked(folder)["verdict"], "look");
  EXPECT_THAT(allOf(checked(folder)["not_checked"]), HasSubstr("thickness of [spoilboard] is only guessed"));
  folder.write("job.toml", smallJob({"a.nc"}, "[spoilboard]\nthickness = 18\nunconfirmed = []\n"));
  EXPECT_EQ(checked(folder)["verdict"], "clear");
}

TEST(FirstJob, without_hold_downs_says_that_nothing_is_known_to_hold_the_stock) {
  TempFolder folder;
  folder.write("a.nc", clean_program);
  folder.write("job.toml",
               "version = 1\n[stock]\nsize = [120, 80, 10]\n[[tool]]\nnumber = 1\nshape = \"flat\"\ndiameter = "
               "6\n[[setup]]\nname = \"top\"\n[[setup.program]]\nfile = \"a.nc\"\n");
  EXPECT_NE(checked(folder)["verdict"], "clear");
  EXPECT_THAT(allOf(checked(folder)["not_checked"]),
              HasSubstr("setup top: the job file does not say what holds the stock"));
}

TEST(FirstJob, says_how_much_is_to_be_filled_in_and_what_to_run_next) {
  TempFolder folder;
  folder.write("a.nc", clean_program);
  const Ran r = runProvecut(folder, {"init", "a.nc", "--output", "job.toml"});
  EXPECT_THAT(r.out, AllOf(HasSubstr("job.toml: "), HasSubstr(" places to fill in, marked FILL IN"),
                           HasSubstr("provecut check job.toml"), Not(HasSubstr("SPLIT IT"))));
  EXPECT_EQ(runProvecut(folder, {"init", "a.nc", "--output", "quiet.toml", "--quiet"}).out, "");
  folder.write("two.nc", "(OP 1)\n" + std::string(clean_program.substr(0, clean_program.find("M5"))) +
                             "M0\n(OP 2)\nG0 X20\nG1 Z-1\nX40\nG0 Z9\nM30\n");
  EXPECT_THAT(runProvecut(folder, {"init", "two.nc", "--output", "two.toml"}).out, HasSubstr("see SPLIT IT"));
}

TEST(FirstJob, of_one_program_given_twice_is_not_written) {
  TempFolder folder;
  folder.write("a.nc", clean_program);
  const Ran r = runProvecut(folder, {"init", "a.nc", "./a.nc", "--output", "job.toml"});
  EXPECT_EQ(r.status, 2);
  EXPECT_THAT(r.err, HasSubstr("./a.nc is given twice"));
  EXPECT_FALSE(std::filesystem::exists(folder.path() / "job.toml"));
}

// I and J as positions: read as distances from the start these arcs go anywhere.
TEST(FirstJob, of_arcs_that_are_misread_is_not_written) {
  TempFolder folder;
  folder.write("a.nc",
               "G21 G90\nT1 M6\nG0 X200 Y100 Z5\nG1 Z-2 F300\nG2 X210 Y110 I210 J100\nG2 X220 Y100 I210 J100\nG2 X210 "
               "Y90 I210 J100\nG2 X200 Y100 I210 J100\nG0 Z5\nM30\n");
  const Ran r = runProvecut(folder, {"init", "a.nc", "--output", "job.toml"});
  EXPECT_EQ(r.status, 2);
  EXPECT_THAT(r.err, AllOf(HasSubstr("a.nc: its arcs only fit if I, J and K are positions"), HasSubstr("G90.1")));
  EXPECT_FALSE(std::filesystem::exists(folder.path() / "job.toml"));
}

TEST(FirstJob, with_a_backslash_in_a_path_says_what_to_write) {
  TempFolder folder;
  folder.write("job.toml", smallJob({"jobs\\\\x.nc"}));
  const Ran r = runProvecut(folder, {"check", "job.toml"});
  EXPECT_EQ(r.status, 2);
  EXPECT_THAT(r.err, HasSubstr("Write / in place of \\"));
  EXPECT_THAT(runProvecut(folder, {"check", "C:\\jobs\\x.toml"}).err, HasSubstr("write / in place of \\"));
}

TEST(RoundStock, is_told_as_round_and_nothing_of_it_is_left_unchecked) {
  TempFolder folder;
  folder.write("a.nc", clean_program);
  folder.write("job.toml",
               "version = 1\n[stock]\nshape = \"round\"\nsize = [100, 100, 10]\n[[tool]]\nnumber = 1\nshape = "
               "\"flat\"\ndiameter = 6\n[[setup]]\n[[setup.program]]\nfile = \"a.nc\"\n");
  EXPECT_THAT(allOf(checked(folder)["not_checked"]), Not(HasSubstr("round")));
  EXPECT_THAT(runProvecut(folder, {"check", "job.toml"}).out, HasSubstr("stock 100 mm round, 10 mm thick"));
}

}  // namespace first_job_test
}  // namespace provecut::testing
