// Input that cannot be used: a clear error with its place and exit status 2, or findings; never a crash, never silence.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/stat.h>

#include <filesystem>
#include <random>
#include <utility>

#include "tests/paths.h"
#include "tests/report/running.h"

namespace provecut::testing {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

Ran checkProgram(std::string_view bytes) {
  TempFolder folder;
  folder.write("a.nc", bytes);
  folder.write("job.toml", smallJob({"a.nc"}));
  return runProvecut(folder, {"check", "job.toml"});
}

Ran checkJob(std::string_view toml) {
  TempFolder folder;
  folder.write("a.nc", "G0 Z10\nM30\n");
  folder.write("job.toml", toml);
  return runProvecut(folder, {"check", "job.toml"});
}

void expectUnusable(const Ran& r, const std::string& words) {
  EXPECT_EQ(r.status, 2) << r.err;
  EXPECT_THAT(r.err, HasSubstr(words));
  EXPECT_THAT(r.out, IsEmpty());
}

TEST(JobFile, that_is_missing) {
  TempFolder folder;
  expectUnusable(runProvecut(folder, {"check", "job.toml"}),
                 "job.toml: error: cannot read the job file: no such file\n   do:   Check the name and the folder.\n");
}

TEST(JobFile, that_is_a_folder) {
  TempFolder folder;
  std::filesystem::create_directory(folder.path() / "job.toml");
  expectUnusable(runProvecut(folder, {"check", "job.toml"}), "this is a folder");
}

TEST(Input, that_is_a_folder) {
  TempFolder folder;
  std::filesystem::create_directory(folder.path() / "jobs");
  expectUnusable(runProvecut(folder, {"check", "jobs"}), "jobs is a folder; give a job file or programs");
  expectUnusable(runProvecut(folder, {"place", "jobs"}), "jobs is a folder; give a job file (.toml)");
}

TEST(JobFile, that_is_empty) {
  expectUnusable(checkJob(""), "the file is empty");
}

TEST(JobFile, that_is_not_toml_is_answered_with_its_place) {
  expectUnusable(checkJob("version = 1\nname = \"a\n"), "job.toml:2:");
}

TEST(JobFile, with_an_unknown_key_names_the_nearest) {
  const Ran r = checkJob(smallJob({"a.nc"}, "[limits]\nclearence = 3\n"));
  expectUnusable(r, "clearance");
  EXPECT_THAT(r.err, AllOf(HasSubstr("clearence = 3"), HasSubstr("^^^^^^^^^")));
}

TEST(JobFile, all_its_errors_come_in_one_run) {
  const Ran r = checkJob(smallJob({"a.nc"}, "[limits]\nclearence = 3\nmin_flor = 1\n"));
  EXPECT_THAT(r.err, AllOf(HasSubstr("clearence"), HasSubstr("min_flor")));
}

TEST(Program, that_is_missing_is_named_where_the_job_file_names_it) {
  TempFolder folder;
  folder.write("job.toml", smallJob({"a.nc", "b.nc"}));
  const Ran r = runProvecut(folder, {"check", "job.toml"});
  expectUnusable(r, "job.toml:");
  EXPECT_THAT(r.err, AllOf(HasSubstr("cannot read program a.nc: no such file"), HasSubstr("cannot read program b.nc")));
}

TEST(Program, that_is_a_folder) {
  TempFolder folder;
  std::filesystem::create_directory(folder.path() / "a.nc");
  folder.write("job.toml", smallJob({"a.nc"}));
  expectUnusable(runProvecut(folder, {"check", "job.toml"}), "this is a folder");
}

TEST(Program, that_is_empty) {
  expectUnusable(checkProgram(""), "the file is empty");
}

TEST(Program, that_holds_no_block) {
  expectUnusable(checkProgram("\n\n"), "no G-code in it");
  expectUnusable(checkProgram("(G1 X10)\n; G1 X10\n%\n"), "no G-code in it");
}

TEST(Program, that_is_binary) {
  std::mt19937 random(7);
  std::string bytes(5000, '\0');
  for (char& b : bytes) b = static_cast<char>(random());
  expectUnusable(checkProgram(bytes), "binary");
  expectUnusable(checkProgram(std::string("\x7f"
                                          "ELF\x02\x01\x01",
                                          7) +
                              std::string(100, '\0')),
                 "binary");
}

TEST(Program, in_two_byte_text_says_so) {
  std::string bytes = "\xFF\xFE";
  for (const char c : std::string_view("G0 Z10\nM30\n")) bytes.append({c, '\0'});
  expectUnusable(checkProgram(bytes), "UTF-16");
}

TEST(Program, in_latin_1_is_read) {
  const Ran r = checkProgram(
      "(Tiefe \xFC"
      "ber alles)\nG21 G90 G17 G94 G54\nG0 Z10\nM30\n");
  EXPECT_NE(r.status, 2) << r.err;
  EXPECT_THAT(r.out, HasSubstr("a.nc"));
}

TEST(Program, with_a_stray_control_byte_gives_a_finding_that_shows_it) {
  const Ran r = checkProgram("G21 G90 G17 G94 G54\nG0 Z10\nG0 X1\x1b[2J Y5\nM30\n");
  EXPECT_EQ(r.status, 1) << r.err;
  EXPECT_THAT(r.out, AllOf(HasSubstr("a.nc:3:4: stop"), HasSubstr("\\x1B"), Not(HasSubstr("\x1b"))));
}

TEST(Program, with_faults_in_it_gives_findings_and_the_rest_is_read) {
  const Ran r = checkProgram("G21 G90 G17 G94 G54\nG0 Z1O\nG0 X1 Y1\nG0 Q7.7.7\nM30\n");
  EXPECT_EQ(r.status, 1) << r.err;
  EXPECT_THAT(r.out, AllOf(HasSubstr("a.nc:2:"), HasSubstr("a.nc:4:"), HasSubstr("[syntax]")));
}

// Peak memory of the children so far, MB.
long peakMegabytes() {
  rusage usage{};
  getrusage(RUSAGE_CHILDREN, &usage);
  return usage.ru_maxrss / 1024;
}

TEST(Program, with_a_line_of_100_megabytes_stays_within_memory) {
  constexpr std::size_t size = 100'000'000;
  std::string words;
  while (words.size() < size) words += "X1 ";
  for (const std::string& bytes :
       {"G1 X" + std::string(size, '9') + "\n", "G1 " + words + "\n", "(" + std::string(size, 'a') + "\nG0 X1\n"}) {
    const Ran r = checkProgram(bytes);
    EXPECT_TRUE(r.status == 1 || r.status == 2) << r.status << r.err.substr(0, 1000);
    EXPECT_THAT(r.out.size() + r.err.size(), ::testing::Lt(100'000u));
    EXPECT_NE(r.out + r.err, "");
  }
  EXPECT_LT(peakMegabytes(), 1200);
}

TEST(Program, that_is_too_large_is_left_at_a_limit) {
  TempFolder folder;
  folder.write("a.nc", "");
  std::filesystem::resize_file(folder.path() / "a.nc", (256u << 20) + 1);
  folder.write("job.toml", smallJob({"a.nc"}));
  expectUnusable(runProvecut(folder, {"check", "job.toml"}), "it is larger than 256 MB");
}

// A pipe would be waited for without end: `timeout` gives 124 then.
TEST(Input, that_is_a_pipe_or_a_device_is_not_waited_for) {
  TempFolder folder;
  ASSERT_EQ(mkfifo((folder.path() / "pipe.nc").c_str(), 0600), 0);
  ASSERT_EQ(mkfifo((folder.path() / "pipe.toml").c_str(), 0600), 0);
  folder.write("a.toml", smallJob({"pipe.nc"}));
  folder.write("b.toml", smallJob({"/dev/zero"}));
  for (const auto& [command, file] : {std::pair("init", "pipe.nc"), std::pair("check", "pipe.toml"),
                                      std::pair("check", "a.toml"), std::pair("check", "b.toml")}) {
    const Ran r = runProcess(folder.path(), {"timeout", "10", PROVECUT_PROGRAM, command, file});
    expectUnusable(r, "this is a pipe or a device");
  }
}

TEST(Init, says_that_a_program_could_not_be_read_completely) {
  TempFolder folder;
  folder.write("a.nc", "G21 G90 G17 G94\nG0 Z10\nG0 X1O Y5\nM30\n");
  const Ran r = runProvecut(folder, {"init", "a.nc"});
  EXPECT_EQ(r.status, 1);
  EXPECT_THAT(r.out, HasSubstr("[[setup.program]]"));
  EXPECT_THAT(r.err, HasSubstr("a.nc could not be read completely"));
}

}  // namespace
}  // namespace provecut::testing
