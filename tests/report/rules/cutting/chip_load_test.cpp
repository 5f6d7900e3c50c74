#include <gtest/gtest.h>

#include <utility>

#include "report/rules/shared/chip_load_table.h"
#include "tests/report/rules/load_scene.h"

namespace provecut {
namespace {

Tool bit(ToolShape shape, double diameter_mm) {
  Tool t;
  t.shape = shape;
  t.diameter_mm = diameter_mm;
  return t;
}

Stock of(Material material) {
  Stock s;
  s.material = material;
  s.material_given = true;
  return s;
}

struct SlottingQuarterInch : LoadScene {
  SlottingQuarterInch() {
    tool().diameter_mm = 6.35;  // hardwood: 0.28 mm at most
    feed_mm_min = 15000;
    job().machine.max_rate_mm_min = {15000, 15000, 5000};
  }
};

TEST(ChipLoad, the_thickest_chip_of_a_tool_is_named) {
  SlottingQuarterInch s;
  s.cutsAt(0.32, 0.32);
  s.cutsAt(0.35, 0.35);
  const auto findings = s.findings(chip_load_rule);
  ASSERT_EQ(findings.size(), 1u);
  const Finding& f = findings[0];
  EXPECT_EQ(f.level, Level::look);
  EXPECT_EQ(f.subject, "6 mm flat");
  EXPECT_EQ(f.moves, 2u);
  EXPECT_NEAR(*f.amount, 0.35, 1e-6);
  EXPECT_EQ(f.message, "6 mm flat cuts chips up to 0.35 mm thick (maximum 0.28 mm)");
  EXPECT_EQ(f.help,
            "Lower the feed to 10,080 mm/min, or use 22,500 rpm. If this bit can take more, set its chip_load in the "
            "job file.");
  ASSERT_FALSE(f.related.empty());
  EXPECT_EQ(f.related[0].place.line, 2u);
}

TEST(ChipLoad, no_speed_is_advised_that_the_tool_must_not_run_at) {
  SlottingQuarterInch s;
  s.tool().max_rpm = 20000;
  s.cutsAt(0.35, 0.35);  // 12600 mm/min; 22500 rpm would do
  EXPECT_EQ(s.findings(chip_load_rule)[0].help,
            "Lower the feed to 10,080 mm/min. If this bit can take more, set its chip_load in the job file.");
}

// 0.28 mm and a tenth.
TEST(ChipLoad, a_tenth_more_than_the_charts_is_allowed_and_a_thousandth_more_is_not) {
  SlottingQuarterInch s;
  s.cutsAt(0.308, 0.308);
  EXPECT_TRUE(s.findings(chip_load_rule).empty());
  s.cutsAt(0.3083, 0.3083);
  EXPECT_EQ(s.findings(chip_load_rule).size(), 1u);
}

// 30 moves within the limit and one beyond it: 0.28 mm, and half as much again.
struct NowAndThen : SlottingQuarterInch {
  explicit NowAndThen(double chip_mm) {
    for (int i = 0; i < 30; ++i) cutsAt(0.2, 0.2);
    cutsAt(chip_mm, chip_mm);
  }
};

TEST(ChipLoad, a_chart_passed_now_and_then_by_less_than_charts_differ_says_nothing) {
  EXPECT_TRUE(NowAndThen(0.419).findings(chip_load_rule).empty());
}

TEST(ChipLoad, a_chart_passed_by_far_is_told_of_a_single_move) {
  EXPECT_EQ(NowAndThen(0.421).findings(chip_load_rule).size(), 1u);
}

TEST(ChipLoad, a_limit_of_the_bits_own_is_told_of_a_single_move) {
  NowAndThen s(0.3);
  s.tool().chip_load_mm = Vec2{0.1, 0.28};
  EXPECT_EQ(s.findings(chip_load_rule).size(), 1u);
}

TEST(ChipLoad, a_chart_passed_a_little_for_a_fifth_of_the_time_is_told) {
  NowAndThen s(0.4);
  for (int i = 0; i < 20; ++i) s.cutsAt(0.4, 0.4);
  EXPECT_EQ(s.findings(chip_load_rule).size(), 1u);
}

TEST(ChipLoad, a_plunge_counts_with_its_feed_per_tooth) {
  SlottingQuarterInch s;
  s.rapid({20, 20, 2});
  s.feed({20, 20, -3});
  MoveLoad load;
  load.max_chip_thickness_mm = load.chip_load_mm = 0.4F;
  load.top_speed_mm_min = load.speed_mm_min = 14400;
  s.loads(load);
  MoveCut& cut = s.programRun().cuts.back();
  cut.section_mm2 = cut.section_height_mm = 0;
  const auto findings = s.findings(chip_load_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message, "6 mm flat plunges with chips 0.4 mm thick (maximum 0.28 mm)");
  cut.bite_mm = 0.2F;  // only scratched
  EXPECT_TRUE(s.findings(chip_load_rule).empty());
  cut.bite_mm = 3;
  s.tool().shape = ToolShape::drill;
  EXPECT_TRUE(s.findings(chip_load_rule).empty());
}

// 18000 rpm are set; chips shrink with the speed that the machine turns at least.
TEST(ChipLoad, chips_that_only_a_spindle_set_too_slow_makes_are_its_own_findings) {
  SlottingQuarterInch s;
  s.cutsAt(0.35, 0.35);
  s.job().machine.spindle_rpm_min = 22500;
  EXPECT_TRUE(s.findings(chip_load_rule).empty());
  EXPECT_EQ(s.findings(spindle_range_rule).size(), 1u);
  s.job().machine.spindle_rpm_min = 22000;
  EXPECT_EQ(s.findings(chip_load_rule).size(), 1u) << "too thick at the slowest that it turns too";
}

TEST(ChipLoad, a_narrow_cut_may_be_fed_faster) {
  SlottingQuarterInch s;
  s.cutsAt(0.5, 0.2);  // chips of a finishing pass
  EXPECT_TRUE(s.findings(chip_load_rule).empty());
}

// 2 diameters: a quarter less; 3: half.
TEST(ChipLoad, deep_cuts_are_allowed_less) {
  EXPECT_DOUBLE_EQ(deepShare(bit(ToolShape::flat, 6), 6), 1);
  EXPECT_DOUBLE_EQ(deepShare(bit(ToolShape::flat, 6), 12), 0.75);
  EXPECT_DOUBLE_EQ(deepShare(bit(ToolShape::flat, 6), 18), 0.5);
  EXPECT_DOUBLE_EQ(deepShare(bit(ToolShape::flat, 6), 60), 0.5);
  SlottingQuarterInch s;
  s.cutsAt(0.231, 0.231, 12.7);
  EXPECT_TRUE(s.findings(chip_load_rule).empty());
  s.cutsAt(0.232, 0.232, 12.7);
  EXPECT_EQ(s.findings(chip_load_rule).size(), 1u);
}

TEST(ChipLoad, a_tools_own_range_is_taken_as_it_is) {
  SlottingQuarterInch s;
  s.tool().chip_load_mm = Vec2{0.05, 0.1};
  s.cutsAt(0.1, 0.1, 19);
  EXPECT_TRUE(s.findings(chip_load_rule).empty());
  s.cutsAt(0.101, 0.101, 2);
  const auto findings = s.findings(chip_load_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_NE(findings[0].message.find("(maximum 0.1 mm)"), std::string::npos);
}

TEST(ChipLoad, without_a_material_only_a_tools_own_range_speaks) {
  SlottingQuarterInch s;
  s.job().stock.material_given = false;
  s.cutsAt(2, 2);
  EXPECT_TRUE(s.findings(chip_load_rule).empty());
  s.tool().chip_load_mm = Vec2{0.05, 0.1};
  EXPECT_EQ(s.findings(chip_load_rule).size(), 1u);
}

// No chart has them; the page of the rule names the neighbour.
TEST(ChipRange, of_a_material_without_a_chart_is_its_neighbours) {
  const std::pair<Material, Material> neighbours[] = {{Material::board, Material::mdf},
                                                      {Material::solid_surface, Material::acrylic},
                                                      {Material::hdpe, Material::polycarbonate},
                                                      {Material::brass, Material::aluminium}};
  for (const auto& [own, neighbour] : neighbours) {
    const auto range = chipRange(bit(ToolShape::flat, 6), of(own), 6);
    ASSERT_TRUE(range);
    EXPECT_EQ(range->max_mm, chipRange(bit(ToolShape::flat, 6), of(neighbour), 6)->max_mm);
    EXPECT_EQ(range->rubs_below_mm, chipRange(bit(ToolShape::flat, 6), of(neighbour), 6)->rubs_below_mm);
  }
}

TEST(ChipLoad, drills_and_form_tools_are_judged_by_their_own_range_alone) {
  EXPECT_FALSE(chipRange(bit(ToolShape::drill, 6), of(Material::hardwood), 6));
  EXPECT_FALSE(chipRange(bit(ToolShape::form, 6), of(Material::hardwood), 6));
  EXPECT_FALSE(chipRange(bit(ToolShape::flat, 6), of(Material::foam), 6));
  EXPECT_FALSE(chipRange(bit(ToolShape::surfacing, 25), of(Material::aluminium), 25));
  Tool own = bit(ToolShape::drill, 6);
  own.chip_load_mm = Vec2{0.02, 0.1};
  EXPECT_DOUBLE_EQ(chipRange(own, of(Material::hardwood), 6)->max_mm, 0.1);
}

// A surfacing bit of 50 mm with three inserts takes 0.167 mm in hardwood, one of 25 mm does not; our own estimate.
TEST(ChipLoad, large_surfacing_bits_take_more_than_small_ones) {
  EXPECT_GT(chipRange(bit(ToolShape::surfacing, 50), of(Material::hardwood), 50)->max_mm, 0.167);
  EXPECT_LT(chipRange(bit(ToolShape::surfacing, 25), of(Material::hardwood), 25)->max_mm * 1.1, 0.167);
  EXPECT_LT(chipRange(bit(ToolShape::surfacing, 50), of(Material::hardwood), 50)->max_mm * 1.1, 0.3)
      << "still too much";
}

// The charts' own numbers, mm: bit makers' charts as sellers' pages print them.
TEST(ChipLoad, the_charts_are_met_at_their_diameters_and_lie_between_them) {
  EXPECT_DOUBLE_EQ(chipRange(bit(ToolShape::flat, 6.35), of(Material::softwood), 6.35)->max_mm, 0.33);
  EXPECT_DOUBLE_EQ(chipRange(bit(ToolShape::flat, 12.7), of(Material::mdf), 12.7)->max_mm, 0.69);
  EXPECT_DOUBLE_EQ(chipRange(bit(ToolShape::flat, 25.4), of(Material::mdf), 25.4)->max_mm, 0.69);
  EXPECT_NEAR(chipRange(bit(ToolShape::flat, 7.9375), of(Material::hardwood), 7.9375)->max_mm, 0.37, 1e-12);
  EXPECT_NEAR(chipRange(bit(ToolShape::flat, 1.5875), of(Material::hardwood), 1.5875)->max_mm, 0.065, 1e-12);
}

// A trap: two sellers' charts differ by 1.6 to 1.8 times for one 1/4 in bit in hardwood (0.23 to 0.28 and 0.13 to 0.18
// mm).
TEST(ChipLoad, either_of_two_sellers_charts_may_be_followed) {
  for (const double chip : {0.13, 0.18, 0.23, 0.28}) {
    SlottingQuarterInch s;
    s.cutsAt(chip, chip);
    EXPECT_TRUE(s.findings(chip_load_rule).empty()) << chip;
    EXPECT_TRUE(s.findings(chip_thin_rule).empty()) << chip;
  }
}

TEST(ChipLoad, a_point_is_not_told_off_for_the_little_that_it_cuts) {
  // 0.3 mm wide at its depth: the charts begin at 1/8 in.
  EXPECT_DOUBLE_EQ(chipRange(bit(ToolShape::vee, 12.7), of(Material::hardwood), 0.3)->max_mm, 0.13);
  EXPECT_DOUBLE_EQ(chipRange(bit(ToolShape::ball, 6), of(Material::hardwood), 0.3)->max_mm, 0.13);
}

}  // namespace
}  // namespace provecut
