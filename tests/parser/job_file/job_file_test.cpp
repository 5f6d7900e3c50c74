#include "parser/job_file/job_file.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/parser/job_file/design_job.h"

namespace provecut {
namespace {

using testing::ElementsAre;

Job read(const std::string& text) {
  JobReading reading = readJob(text, "jobs/board.toml");
  for (const JobFileProblem& p : reading.problems) {
    ADD_FAILURE() << p.place.line << ":" << p.place.column << ": " << p.message << "; " << p.help;
  }
  return reading.job.value_or(Job{});
}

TEST(JobFile, every_section_is_read) {
  const Job job = read(cribbageJob());
  EXPECT_EQ(job.name, "Cribbage board");
  EXPECT_EQ(job.file, "jobs/board.toml");
  EXPECT_FALSE(job.inches);
  EXPECT_EQ(job.machine.profile, "bench-screw");
  EXPECT_EQ(job.machine.max_rate_mm_min, (Vec3{5000, 5000, 3000}));
  EXPECT_EQ(job.machine.spindle_rpm_min, 8000);
  EXPECT_EQ(job.machine.spindle_rpm_max, 24000);
  EXPECT_EQ(job.stock.size_mm, (Vec3{420, 130, 19.05}));
  EXPECT_EQ(job.stock.grain, Grain::x);
  EXPECT_EQ(job.stock.material, Material::hardwood);
  EXPECT_TRUE(job.stock.material_given);
  ASSERT_EQ(job.tools.size(), 2u);
  EXPECT_EQ(job.tools[0].stickout_mm, 35);
  EXPECT_EQ(job.tools[0].chip_load_mm, (Vec2{0.05, 0.15}));
  EXPECT_EQ(job.spindle_attachments.at(0).bottom_mm, -6);
  EXPECT_EQ(job.limits.cell_mm, 0.25);
  EXPECT_EQ(job.accepts.at(0).max_amount, 0.5);
  ASSERT_TRUE(job.quote);
  EXPECT_THAT(job.quote->quantity, ElementsAre(1, 10, 50));
  EXPECT_EQ(job.quote->margin, 0.25);
}

std::string replaced(std::string text, std::string_view from, std::string_view to) {
  return text.replace(text.find(from), from.size(), to);
}

TEST(JobFile, a_spindle_by_hand_and_the_speeds_to_dial) {
  EXPECT_FALSE(read(cribbageJob()).machine.dialled());
  const Job job = read(replaced(replaced(cribbageJob(), "spindle_start_s = 4", "spindle = \"by-hand\""),
                                "[[setup.program]]\n", "[[setup.program]]\nrpm = 12000\n"));
  EXPECT_TRUE(job.machine.spindle_by_hand);
  EXPECT_FALSE(job.machine.speed_by_hand);
  EXPECT_TRUE(job.machine.dialled());
  EXPECT_EQ(job.setups.at(0).programs.at(0).rpm, 12000);
  const JobReading wrong = readJob(replaced(cribbageJob(), "spindle_start_s = 4", "speed = \"by-foot\""), "j.toml");
  ASSERT_EQ(wrong.problems.size(), 1u);
}

TEST(JobFile, a_start_time_of_the_job_files_own_is_told_from_a_profiles) {
  EXPECT_TRUE(read(cribbageJob()).machine.spindle_start_given);
  const Job job = read(replaced(cribbageJob(), "spindle_start_s = 4", ""));
  EXPECT_FALSE(job.machine.spindle_start_given);
  EXPECT_EQ(job.machine.spindle_start_s, 4);
}

TEST(JobFile, a_machine_that_can_tap_says_so) {
  EXPECT_THAT(read(cribbageJob()).machine.accepts, testing::Not(testing::Contains("tapping")));
  const Job job = read(replaced(cribbageJob(), "\"subprograms\"]", "\"subprograms\", \"tapping\"]"));
  EXPECT_THAT(job.machine.accepts, testing::Contains("tapping"));
}

TEST(JobFile, a_species_gives_the_material_and_must_fit_it) {
  const Job job = read(replaced(cribbageJob(), "material = \"hardwood\"", "species = \"red oak\""));
  ASSERT_TRUE(job.stock.species);
  EXPECT_EQ(job.stock.species->name, "red oak");
  EXPECT_EQ(job.stock.material, Material::hardwood);
  EXPECT_TRUE(job.stock.material_given);
  EXPECT_FALSE(read(cribbageJob()).stock.species);
  const JobReading wrong = readJob(
      replaced(cribbageJob(), "material = \"hardwood\"", "material = \"mdf\"\nspecies = \"red oak\""), "j.toml");
  ASSERT_EQ(wrong.problems.size(), 1u);
  EXPECT_THAT(wrong.problems[0].message, testing::HasSubstr("red oak is hardwood, not mdf"));
}

TEST(JobFile, a_programs_hold_downs_stand_until_the_next_list) {
  const Job job = read(cribbageJob());
  const auto& programs = job.setups.at(0).programs;
  EXPECT_THAT(programs.at(0).hold_downs, ElementsAre(0, 1));
  EXPECT_THAT(programs.at(1).hold_downs, ElementsAre(0));
  EXPECT_THAT(programs.at(2).hold_downs, ElementsAre(0));
  EXPECT_FALSE(programs.at(2).hold_downs_given);
  EXPECT_THAT(job.setups.at(1).programs.at(0).hold_downs, ElementsAre(2, 3));
}

TEST(JobFile, places_are_those_of_the_tables) {
  const Job job = read(cribbageJob());
  EXPECT_EQ(job.tools[0].place, (Place{29, 1, 9}));        // [[tool]]
  EXPECT_EQ(job.hold_downs[0].place, (Place{59, 1, 14}));  // [[hold_down]]
}

TEST(JobFile, tool_defaults_follow_the_diameter) {
  const Tool tool = read(cribbageJob()).tools.at(1);
  EXPECT_EQ(tool.flute_length_mm, 18);  // 3 diameters
  EXPECT_EQ(tool.stickout_mm, 28);      // 10 mm more
  EXPECT_EQ(tool.shank_diameter_mm, 6);
  EXPECT_EQ(tool.flutes, 2);
  EXPECT_EQ(tool.name, "6 mm flat");
}

}  // namespace
}  // namespace provecut
