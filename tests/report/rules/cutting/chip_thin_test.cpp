#include <gtest/gtest.h>

#include "report/rules/shared/chip_load_table.h"
#include "tests/report/rules/load_scene.h"

namespace provecut {
namespace chip_thin_test {

struct QuarterInch : LoadScene {
  QuarterInch() { tool().diameter_mm = 6.35; }  // hardwood: light machines from 0.08 mm, half of it is 0.04
};

TEST(ChipThin, a_tool_that_rubs_all_the_time_is_a_note) {
  QuarterInch s;
  s.feed_mm_min = 720;  // 18000 rpm, 2 flutes, 0.02 mm
  s.cutsAt(0.02, 0.02);
  s.cutsAt(0.02, 0.02);
  const auto findings = s.findings(chip_thin_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_EQ(findings[0].moves, 2u);
  EXPECT_NEAR(*findings[0].amount, 0.02, 1e-6);
  EXPECT_EQ(findings[0].message,
            "6 mm flat: chip load 0.02 mm throughout; below 0.04 mm the bit rubs instead of cutting");
  EXPECT_EQ(findings[0].help, "Use 9,000 rpm, or raise the feed to 1,440 mm/min.");
}

// 8000 rpm is the slowest of the machine: at 0.02 mm and 12000 rpm only 6000 rpm would do.
TEST(ChipThin, advice_stays_within_what_the_machine_can_do) {
  QuarterInch s;
  s.feed_mm_min = 480;
  s.rpm = 12000;
  s.cutsAt(0.02, 0.02);
  s.programRun().loads.back().speed_mm_min = 480;
  EXPECT_EQ(s.findings(chip_thin_rule)[0].help, "Raise the feed to 960 mm/min.");
  // An axis that goes no faster than 700 mm/min needs the slowest speed as well: 0.04 x 2 x 8000 is 640 mm/min.
  s.job().machine.max_rate_mm_min = {700, 5000, 3000};
  EXPECT_EQ(s.findings(chip_thin_rule)[0].help, "Use 8,000 rpm and raise the feed to 640 mm/min.");
  s.job().machine.max_rate_mm_min = {600, 5000, 3000};
  EXPECT_EQ(s.findings(chip_thin_rule)[0].help,
            "Not possible with this bit on this machine: use one with fewer flutes.");
}

TEST(ChipThin, where_the_machine_does_not_reach_the_feed_only_the_spindle_helps) {
  QuarterInch s;
  s.feed_mm_min = 3000;  // 720 of them reached
  s.cutsAt(0.02, 0.02);
  EXPECT_EQ(s.findings(chip_thin_rule)[0].help, "Use 9,000 rpm.");
}

// Charts are right to half: from 0.04 / 1.55 = 0.0258 mm on nothing is said.
TEST(ChipThin, what_charts_for_one_bit_differ_by_is_within_their_own_doubt) {
  QuarterInch s;
  s.cutsAt(0.0259, 0.0259);
  EXPECT_TRUE(s.findings(chip_thin_rule).empty());
  QuarterInch less;
  less.cutsAt(0.0257, 0.0257);
  EXPECT_EQ(less.findings(chip_thin_rule).size(), 1u);
}

// A 6 mm bit widens a hole to 10 mm: its centre goes round at 2 mm, the wall goes by at 5 mm, 2.5 times as fast.
TEST(ChipThin, in_a_bore_the_speed_at_the_wall_counts) {
  const auto bored = [](double chip, double way_mm) {
    LoadScene s;
    s.rapid({50 + way_mm, 50, 0});
    s.feed_mm_min = chip * 36000;
    s.arc({50 + way_mm, 50, -0.8}, {50, 50}, Plane::xy, false);
    const auto speed = static_cast<float>(s.feed_mm_min), c = static_cast<float>(chip);
    s.loads({speed, speed, c, c, 1000, 10, 5, 0.01F}, 6, 0.8);
    return s.findings(chip_thin_rule).size();
  };
  EXPECT_EQ(bored(0.015, 2), 0u);  // 0.0375 mm at the wall
  EXPECT_EQ(bored(0.008, 2), 1u);  // 0.02 mm; from 0.0382 / 1.55 = 0.0246 mm on it cuts
  EXPECT_EQ(bored(0.015, 4), 1u) << "a wide circle may go round a post";
}

TEST(ChipThin, a_few_slow_corners_are_not_worth_a_word) {
  // Three moves of 60 mm: at 0.01 mm per tooth one takes as long as ten at 0.1.
  QuarterInch s;
  for (int k = 0; k < 11; ++k) s.cutsAt(0.1, 0.1);
  s.cutsAt(0.01, 0.01);
  EXPECT_TRUE(s.findings(chip_thin_rule).empty());
  s.cutsAt(0.01, 0.01);
  EXPECT_EQ(s.findings(chip_thin_rule).size(), 1u);
}

TEST(ChipThin, a_finishing_pass_is_meant_to_be_narrow) {
  QuarterInch s;
  s.cutsAt(0.07, 0.015);  // the chip is thin, the way per tooth is not
  EXPECT_TRUE(s.findings(chip_thin_rule).empty());
}

// A trap: looked up by their bodies, a surfacing bit and a vee would be called rubbing at settings that shops run well:
// 80 in/min at 18000 rpm and 60 in/min at 24000 rpm.
TEST(ChipThin, surfacing_bits_and_vees_are_not_looked_up_by_their_bodies) {
  Stock oak;
  oak.material = Material::hardwood;
  oak.material_given = true;
  Tool flat, surfacing, vee;
  flat.diameter_mm = surfacing.diameter_mm = vee.diameter_mm = 25.4;
  surfacing.shape = ToolShape::surfacing;
  vee.shape = ToolShape::vee;
  const double surfaced = 80 * 25.4 / (18000 * 2), lettered = 60 * 25.4 / (24000 * 2);
  EXPECT_LT(surfaced, chipRange(flat, oak, 25.4)->rubs_below_mm);
  EXPECT_GT(surfaced, chipRange(surfacing, oak, 25.4)->rubs_below_mm);
  EXPECT_LT(lettered, chipRange(flat, oak, 25.4)->rubs_below_mm);
  EXPECT_GT(lettered, chipRange(vee, oak, 1.385640646055)->rubs_below_mm);  // 60 degrees, 1.2 mm deep
}

TEST(ChipThin, the_floor_of_wood_and_plastic_holds_for_upright_edges) {
  Stock acrylic;
  acrylic.material = Material::acrylic;
  acrylic.material_given = true;
  Tool flat, ball;
  flat.diameter_mm = ball.diameter_mm = 3.175;
  ball.shape = ToolShape::ball;
  EXPECT_DOUBLE_EQ(chipRange(flat, acrylic, 3.175)->rubs_below_mm, 0.025);
  EXPECT_DOUBLE_EQ(chipRange(ball, acrylic, 1)->rubs_below_mm, 0.05 / 2 / 3.175);
  acrylic.material = Material::aluminium;
  EXPECT_DOUBLE_EQ(chipRange(flat, acrylic, 3.175)->rubs_below_mm, 0.01);
}

TEST(ChipThin, a_tools_own_range_is_taken_as_it_is) {
  QuarterInch s;
  s.tool().chip_load_mm = Vec2{0.05, 0.3};
  s.cutsAt(0.05, 0.05);
  EXPECT_TRUE(s.findings(chip_thin_rule).empty());
  s.tool().chip_load_mm = Vec2{0.0501, 0.3};
  EXPECT_EQ(s.findings(chip_thin_rule).size(), 1u);
}

// Below 0.02 mm a turn, and a third less for the doubt: 0.0067 mm with two edges is well below.
TEST(ChipThin, a_drill_that_rubs_burns_its_hole) {
  LoadScene s;
  s.tool().shape = ToolShape::drill;
  s.tool().name = "3.2 mm drill";
  s.tool().diameter_mm = 3.2;
  s.rapid({20, 20, 3});
  s.feed({20, 20, -18});
  MoveLoad load;
  load.speed_mm_min = load.top_speed_mm_min = 100;
  load.chip_load_mm = load.max_chip_thickness_mm = 0.0033F;
  s.loads(load);
  s.programRun().cuts.back().section_mm2 = 0;
  const auto findings = s.findings(chip_thin_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_TRUE(s.findings(chip_load_rule).empty());
  s.programRun().loads.back().chip_load_mm = 0.0101F;
  EXPECT_TRUE(s.findings(chip_thin_rule).empty());
  s.programRun().loads.back().chip_load_mm = 0.0033F;
  s.job().stock.material = Material::aluminium;
  EXPECT_TRUE(s.findings(chip_thin_rule).empty());
}

}  // namespace chip_thin_test
}  // namespace provecut
