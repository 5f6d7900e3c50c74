// How owners are told to describe bits and hold-downs works as it is told: every example can be read.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>
#include <string>
#include <vector>

#include "parser/job_file/job_file.h"
#include "tests/parser/job_file/marked_text.h"
#include "tests/paths.h"

namespace provecut {
namespace bit_description_test {

using testing::HasSubstr;
using testing::IsEmpty;

// A job of one tool, `lines` its keys.
std::string jobWith(const std::string& lines, const std::string& units = "mm") {
  return "version = 1\nname = \"x\"\nunits = \"" + units +
         "\"\n\n[stock]\nsize = [100, 60, 20]\n\n[[tool]]\nnumber = 1\n" + lines +
         "\n\n[[setup]]\nname = \"a\"\nzero = [\"left\", \"front\", \"top\"]\nheld_by = \"glue\"\n\n[[setup.program]]\n"
         "file = \"a.nc\"\ntool = 1\n";
}

std::string helpFor(const std::string& bit, const std::string& units = "mm") {
  const auto problems = readJob(jobWith("shape = \"" + bit + "\"\ndiameter = 6", units), "job.toml").problems;
  return problems.empty() ? "" : problems.front().help;
}

TEST(BitDescription, of_a_bit_without_a_shape_here_gives_a_profile_that_can_be_read) {
  for (const char* bit : {"dovetail", "T-Slot", "keyhole", "roundover", "ogee", "rabbeting"}) {
    for (const char* units : {"mm", "in"}) {
      const std::string help = helpFor(bit, units);
      const std::size_t begin = help.find("profile = ["), end = help.find("]]", begin);
      ASSERT_NE(end, std::string::npos) << bit << ": " << help;
      const std::string profile = help.substr(begin, end + 2 - begin);
      const JobReading reading = readJob(jobWith("shape = \"form\"\n" + profile, units), "job.toml");
      EXPECT_THAT(messagesOf(reading.problems), IsEmpty()) << bit << " " << profile;
      ASSERT_TRUE(reading.job) << bit;
      EXPECT_GT(reading.job->tools.at(0).diameter_mm, 7) << bit << ": a usual bit, in either unit";
      EXPECT_LT(reading.job->tools.at(0).diameter_mm, 30) << bit;
    }
  }
}

TEST(BitDescription, of_a_bit_is_in_the_units_of_the_job) {
  EXPECT_THAT(helpFor("dovetail"), HasSubstr("A bit 12.7 mm wide, 14 degrees, 12.7 mm high: `profile = [[6.35, 0], "));
  EXPECT_THAT(helpFor("dovetail", "in"),
              HasSubstr("A bit 0.5 in wide, 14 degrees, 0.5 in high: `profile = [[0.25, 0], "));
}

TEST(BitDescription, of_a_dovetail_has_its_angle) {
  const std::string help = helpFor("dovetail");
  EXPECT_THAT(help, HasSubstr("Did you mean \"form\"?"));
  // 12.7 mm wide, 12.7 mm high, 14 degrees: the upper radius is 6.35 - 12.7 tan 14 deg.
  EXPECT_THAT(help, HasSubstr("[[6.35, 0], [3.18, 12.7]]"));
}

TEST(BitDescription, of_other_bits_names_their_shape) {
  for (const auto& [bit, ours, how] : std::vector<std::array<const char*, 3>>{
           {"cove", "ball", "with a pilot it is a \"form\""},
           {"chamfer", "vee", "90 for a 45 degree chamfer"},
           {"compression", "flat", "`up_cut_length`"},
           {"downcut", "flat", ""},
           {"spoilboard cutter", "surfacing", "`center_cutting = true`"},
           {"drag knife", "flat", "only checks bits that spin"},
           {"Forstner", "drill", "`angle = 179`"},
       }) {
    EXPECT_THAT(helpFor(bit), HasSubstr(std::string("Did you mean \"") + ours + "\"?")) << bit;
    EXPECT_THAT(helpFor(bit), HasSubstr(how)) << bit;
  }
  EXPECT_THAT(helpFor("zzz"), testing::Not(HasSubstr("profile")));
}

// The indented blocks of the guide.
std::vector<std::string> blocksOf(const std::filesystem::path& guide) {
  std::ifstream in(guide);
  std::vector<std::string> blocks;
  std::string line, block;
  while (std::getline(in, line)) {
    if (line.starts_with("    ") || (line.empty() && !block.empty())) {
      block += line.substr(std::min<std::size_t>(line.size(), 4)) + "\n";
    } else if (!block.empty()) {
      blocks.push_back(block);
      block.clear();
    }
  }
  if (!block.empty()) blocks.push_back(block);
  return blocks;
}

TEST(Guide, to_describing_has_only_blocks_that_can_be_read) {
  const auto blocks = blocksOf(std::filesystem::path(PROVECUT_SOURCE_DIR) / "samples" / "DESCRIBING.md");
  int tools = 0, jaws = 0, jobs = 0;
  for (const std::string& block : blocks) {
    std::string text = block;
    if (block.starts_with("[[tool]]")) {
      ++tools;
      text = jobWith("shape = \"flat\"\ndiameter = 6") + block;
    } else if (block.starts_with("[[hold_down]]")) {
      ++jaws;
      text = jobWith("shape = \"flat\"\ndiameter = 6") + block;
    } else {
      ++jobs;
    }
    const JobReading reading = readJob(text, "job.toml");
    EXPECT_THAT(messagesOf(reading.problems), IsEmpty()) << block;
    EXPECT_TRUE(reading.job) << block;
  }
  EXPECT_EQ(tools, 4);
  EXPECT_EQ(jaws, 1);
  EXPECT_EQ(jobs, 1);
}

}  // namespace bit_description_test
}  // namespace provecut
