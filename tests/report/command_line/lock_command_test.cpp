// `provecut lock`: which exports were checked, kept beside the job file, and told by check, sheet and JSON.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "parser/job_file/lock_file.h"
#include "report/base/digest.h"
#include "tests/report/running.h"

namespace provecut::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

std::string lockedSlot(const std::string& z) {
  return "(tray)\nG21 G90 G17 G94 G54\nT1 M6\nM3 S12000\nG4 P5\nG0 Z10\nG0 X50 Y40\nG1 Z" + z +
         " F300\nG1 X70 F900\nG0 Z10\nM5\nM30\n";
}

struct LockBench {
  TempFolder folder;
  LockBench() {
    folder.write("a.nc", lockedSlot("-5"));
    folder.write("b.nc", lockedSlot("-4"));
    folder.write("job.toml", smallJob({"a.nc", "b.nc"}));
  }
  Ran run(std::vector<std::string> arguments) const { return runProvecut(folder, arguments); }
};

TEST(LockCommand, keeps_digest_size_and_figures_of_each_program) {
  const LockBench b;
  const Ran ran = b.run({"lock", "job.toml"});
  EXPECT_EQ(ran.status, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("job.lock: 2 programs locked."));
  const LockReading read = readLock(b.folder.read("job.lock"));
  ASSERT_TRUE(read.lock) << read.problems.at(0).message;
  ASSERT_EQ(read.lock->programs.size(), 2u);
  const LockedProgram& a = read.lock->programs[0];
  EXPECT_EQ(a.file, "a.nc");
  EXPECT_EQ(a.sha256, sha256(lockedSlot("-5")));
  EXPECT_EQ(a.bytes, static_cast<int>(lockedSlot("-5").size()));
  EXPECT_EQ(a.comments, std::vector<std::string>{"tray"});
  EXPECT_EQ(a.moves, 5);
  EXPECT_EQ(a.tools, std::vector<int>{1});
  EXPECT_NEAR(a.cuts.low.z, -5, 1e-9);
  EXPECT_NEAR(a.cuts.high.x, 70, 1e-9);
}

// A folder in the way stands for a full disk: the new lock cannot be written whole.
TEST(LockCommand, that_cannot_be_written_whole_leaves_the_lock_before_as_it_was) {
  const LockBench b;
  b.run({"lock", "job.toml"});
  const std::string before = b.folder.read("job.lock");
  b.folder.write("a.nc", lockedSlot("-6"));
  std::filesystem::create_directory(b.folder.path() / "job.lock.part");
  const Ran ran = b.run({"lock", "--update", "job.toml"});
  EXPECT_EQ(ran.status, 2);
  EXPECT_THAT(ran.err, HasSubstr("job.lock"));
  EXPECT_EQ(b.folder.read("job.lock"), before);
}

TEST(LockCommand, check_is_as_before_while_the_programs_are_those_that_were_locked) {
  const LockBench b;
  const std::string before = b.run({"check", "job.toml"}).out;
  b.run({"lock", "job.toml"});
  EXPECT_EQ(b.run({"check", "job.toml"}).out, before);
}

TEST(LockCommand, check_names_the_other_export_and_what_it_does_otherwise) {
  const LockBench b;
  b.run({"lock", "job.toml"});
  b.folder.write("b.nc", lockedSlot("-4.5"));
  const std::string out = b.run({"check", "job.toml"}).out;
  EXPECT_THAT(out, HasSubstr("b.nc: look: this is not the program that was locked on "));
  EXPECT_THAT(out, HasSubstr("cuts 0.5 mm deeper"));
  EXPECT_THAT(out, HasSubstr("[program-changed]"));
  EXPECT_THAT(out, HasSubstr("Check first"));
  EXPECT_THAT(out, Not(HasSubstr("a.nc: look")));
}

TEST(LockCommand, a_lock_that_differs_is_only_replaced_on_request) {
  const LockBench b;
  b.run({"lock", "job.toml"});
  const std::string first = b.folder.read("job.lock");
  EXPECT_EQ(b.run({"lock", "job.toml"}).status, 0);  // the same programs
  b.folder.write("b.nc", lockedSlot("-4.5"));
  const Ran refused = b.run({"lock", "job.toml"});
  EXPECT_EQ(refused.status, 2);
  EXPECT_THAT(refused.err, HasSubstr("add --update to replace it"));
  EXPECT_THAT(refused.err, HasSubstr("b.nc: cuts 0.5 mm deeper"));
  EXPECT_EQ(b.folder.read("job.lock"), first);
  const Ran renewed = b.run({"lock", "--update", "job.toml"});
  EXPECT_EQ(renewed.status, 0);
  EXPECT_THAT(renewed.out, HasSubstr("b.nc: cuts 0.5 mm deeper"));
  EXPECT_THAT(b.run({"check", "job.toml"}).out, Not(HasSubstr("program-changed")));
}

TEST(LockCommand, a_lock_that_cannot_be_read_is_an_error_with_its_place_and_nothing_is_clear) {
  const LockBench b;
  b.run({"lock", "job.toml"});
  const std::string good = b.folder.read("job.lock");
  for (const std::string& bad : {good + "moves = \n", good.substr(0, good.find("sha256")), std::string("lock = 2\n")}) {
    b.folder.write("job.lock", bad);
    for (const char* command : {"check", "sheet"}) {
      const Ran ran = b.run({command, "job.toml"});
      EXPECT_EQ(ran.status, 2) << bad;
      EXPECT_THAT(ran.err, HasSubstr("job.lock:")) << bad;
      EXPECT_THAT(ran.err, HasSubstr("provecut lock --update"));
      EXPECT_EQ(ran.out, "");
    }
    EXPECT_EQ(b.run({"lock", "job.toml"}).status, 2);
    EXPECT_EQ(b.folder.read("job.lock"), bad);
  }
  EXPECT_EQ(b.run({"lock", "job.toml", "--update"}).status, 0);
  EXPECT_EQ(b.run({"check", "job.toml"}).err, "");
}

TEST(LockCommand, the_lock_file_in_place_of_its_job_file_is_refused_by_name) {
  const LockBench b;
  b.run({"lock", "job.toml"});
  for (const char* command : {"check", "lock", "sheet"}) {
    const Ran ran = b.run({command, "job.lock"});
    EXPECT_EQ(ran.status, 2);
    EXPECT_THAT(ran.err, HasSubstr("job.lock is a lock file; give its job file (.toml)"));
  }
}

TEST(LockCommand, the_sheet_and_the_json_say_which_export_it_is) {
  const LockBench b;
  EXPECT_THAT(b.run({"sheet", "job.toml"}).out, Not(HasSubstr("Lock of")));
  b.run({"lock", "job.toml"});
  b.folder.write("b.nc", lockedSlot("-4.5"));
  const std::string sheet = b.run({"sheet", "job.toml"}).out;
  EXPECT_THAT(sheet, HasSubstr("Lock of "));
  EXPECT_THAT(sheet, HasSubstr("<td>as locked</td>"));
  EXPECT_THAT(sheet, HasSubstr("<td><strong>changed since</strong></td>"));
  const auto json = nlohmann::json::parse(b.run({"check", "job.toml", "--format", "json"}).out);
  EXPECT_EQ(json["programs"][0]["lock"], "same");
  EXPECT_EQ(json["programs"][1]["lock"], "other-program");
  EXPECT_EQ(json["programs"][0]["sha256"], sha256(lockedSlot("-5")));
  EXPECT_TRUE(json["locked_on"].is_string());
}

}  // namespace
}  // namespace provecut::testing
