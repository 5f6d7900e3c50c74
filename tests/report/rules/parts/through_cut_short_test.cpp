#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

using ::testing::HasSubstr;

// An outline to Z -18.3, 0.3 mm through the 18 mm of the job file, in stock that measures more or less.
struct MeasuredSheet : Scene {
  explicit MeasuredSheet(double measured_mm, double z = -18.3) {
    measures(measured_mm);
    saidThickness() = 18;
    feed({60, 40, -10});
    cuts(10, 10);
    feed({60, 40, z});
    cuts(8, 8);
  }
  void measures(double thickness_mm) {
    job().stock.size_mm.z = thickness_mm;
    setup().zero_mm.z = thickness_mm;
  }
  void floor(double thickness_mm) {
    ThinFloor t;
    t.move = lastIndex();
    t.thickness_mm = t.worst_mm = thickness_mm;
    t.moves_with_stock = 1;
    programRun().thin_floors = {t};
  }
  std::size_t count() { return findings(through_cut_short_rule).size(); }
};

TEST(ThroughCutShort, a_sheet_of_18_4_cut_to_18_3_keeps_a_tenth_and_the_new_depth_is_said) {
  MeasuredSheet s(18.4);
  const auto findings = s.findings(through_cut_short_rule);
  ASSERT_EQ(findings.size(), 1u);
  const Finding& f = findings[0];
  EXPECT_EQ(f.level, Level::look);
  EXPECT_EQ(f.place.line, 0u);  // above all else of this program
  EXPECT_NEAR(*f.amount, 0.1, 1e-9);
  EXPECT_EQ(f.message, "the cuts end 0.1 mm above the underside; the stock measures 18.4 mm, the job file says 18 mm");
  EXPECT_EQ(f.help,
            "Cut 0.1 mm deeper, plus what you want below the stock: Z -18.7 mm goes 0.3 mm below it. Or set Z zero on "
            "the spoilboard.");
  ASSERT_EQ(f.related.size(), 1u);
  EXPECT_EQ(f.related[0].place.line, 2u);
}

// Two tenths above the screw's head: four tenths deeper it would be hit.
TEST(ThroughCutShort, a_deeper_cut_that_would_bring_the_collet_nut_onto_a_screw_is_told_so) {
  MeasuredSheet s(18.4);
  const int head = s.addHoldDown(screw("screw SW", {30, 30}, 9, 4.5));
  const auto passing = [&](double clearance_mm) {
    s.programRun().near_passes = {{s.lastIndex(), head, ToolPart::collet_nut, -1, {60, 40, -18.3}, clearance_mm}};
    return s.findings(through_cut_short_rule).at(0);
  };
  EXPECT_THAT(passing(0.2).help,
              HasSubstr("First give the bit more stickout: the collet nut passes screw SW by only 0.2 mm now."));
  EXPECT_TRUE(passing(0.2).ways.empty());
  EXPECT_EQ(passing(0.5).ways.size(), 1u);
}

TEST(ThroughCutShort, a_sheet_that_is_still_cut_through_is_not_told) {
  EXPECT_EQ(MeasuredSheet(18.299).count(), 0u);
  EXPECT_EQ(MeasuredSheet(18.3).count(), 0u);  // just through
  EXPECT_EQ(MeasuredSheet(18.302).count(), 1u);
  EXPECT_EQ(MeasuredSheet(17.6).count(), 0u);
}

TEST(ThroughCutShort, a_pass_that_a_later_one_takes_through_is_not_told) {
  MeasuredSheet s(18.4);
  s.feed({60, 40, -18.5});
  s.cuts(0.2, 0.2);
  EXPECT_EQ(s.count(), 0u);
  MeasuredSheet elsewhere(18.4);
  elsewhere.feed({60, 47, -18.3});  // 7 mm beside it, and then through
  elsewhere.cuts(8, 8);
  elsewhere.feed({60, 47, -18.5});
  elsewhere.cuts(0.2, 0.2);
  EXPECT_EQ(elsewhere.count(), 1u);
  MeasuredSheet later(18.4);
  later.addProgram("20-through.nc");
  later.feed({60, 40, -18.5});
  later.cuts(0.2, 0.2);
  EXPECT_EQ(later.count(), 0u);
}

TEST(ThroughCutShort, a_pocket_that_never_went_through_is_not_told) {
  EXPECT_EQ(MeasuredSheet(18.4, -17.99).count(), 0u);
  EXPECT_EQ(MeasuredSheet(18.4, -18).count(), 1u);
}

TEST(ThroughCutShort, a_zero_on_the_spoilboard_goes_through_whatever_the_thickness) {
  MeasuredSheet s(18.4, -0.3);
  s.setup().zero_mm.z = 0;
  s.setup().zero_z_on_top = false;
  EXPECT_EQ(s.count(), 0u);
}

TEST(ThroughCutShort, a_program_that_must_not_go_through_and_moves_that_cut_nothing_are_left_out) {
  MeasuredSheet s(18.4);
  s.setup().programs[0].through = false;
  EXPECT_EQ(s.count(), 0u);
  s.setup().programs[0].through = true;
  s.cuts(0, 0, 0);
  EXPECT_EQ(s.count(), 0u);
}

TEST(ThroughCutShort, parts_that_stay_attached_are_counted) {
  MeasuredSheet s(18.4);
  Piece p;
  p.move = s.lastIndex();
  p.tabs.resize(1);
  p.tabs[0].onion_skin = true;
  s.programRun().pieces = {p, p};
  EXPECT_THAT(s.findings(through_cut_short_rule).at(0).message, HasSubstr("2 parts stay attached: the cuts end"));
}

TEST(ThroughCutShort, only_parts_with_tabs_are_said_to_be_held_in_place_of_them) {
  MeasuredSheet s(18, -17.6);
  s.saidThickness().reset();
  s.floor(0.4);
  Piece p;
  p.move = s.lastIndex();
  p.tabs.resize(1);
  p.tabs[0].onion_skin = true;
  p.tabs[0].thickness_mm = 0.4;
  s.programRun().pieces = {p, p, p};
  s.programRun().pieces[1].tabs[0].tabs_in_skin = true;
  EXPECT_TRUE(s.findings(through_cut_short_rule).at(0).message.starts_with("1 part is held by a skin"));
}

TEST(ThroughCutShort, a_skin_between_tabs_was_not_meant_however_thick_it_is) {
  MeasuredSheet s(18, -17.6);
  s.saidThickness().reset();
  s.floor(0.4);
  Piece p;
  p.move = s.lastIndex();
  p.tabs.resize(1);
  p.tabs[0].onion_skin = true;
  p.tabs[0].thickness_mm = 0.4;
  p.tabs[0].length_mm = 200;
  p.tabs[0].area_mm2 = 200;
  s.programRun().pieces = {p};
  EXPECT_EQ(s.count(), 0u);  // a skin alone holds the part
  s.programRun().pieces[0].tabs[0].tabs_in_skin = true;
  const auto findings = s.findings(through_cut_short_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message,
            "1 part is held by a skin all round, not by its tabs: the cuts end 0.4 mm above the underside of the 18 mm "
            "stock");
  EXPECT_THAT(findings[0].help, HasSubstr("Cut 0.4 mm deeper"));
  EXPECT_THAT(findings[0].help, ::testing::Not(HasSubstr("leave tabs")));
  EXPECT_TRUE(s.findings(tabs_weak_rule).empty());
}

TEST(ThroughCutShort, in_stock_as_the_job_file_says_a_skin_under_a_fifth_of_a_millimetre_was_not_meant) {
  MeasuredSheet s(18.4);
  s.saidThickness().reset();
  EXPECT_EQ(s.count(), 0u);  // the underside is cut away there
  s.floor(0.1);
  const auto findings = s.findings(through_cut_short_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message, "the cuts end 0.1 mm above the underside of the 18.4 mm stock");
  s.measures(18.5);  // 0.2 is what somebody may leave to hold a part
  s.floor(0.2);
  EXPECT_EQ(s.count(), 0u);
}

TEST(ThroughCutShort, the_skin_is_not_also_a_floor_to_be_cut_less_deep_or_a_tab_to_be_made_thicker) {
  MeasuredSheet s(18.4);
  s.floor(0.1);
  EXPECT_TRUE(s.findings(floor_thin_rule).empty());
  Piece p;
  p.move = s.lastIndex();
  p.plan_area_mm2 = 700;
  p.tabs.resize(1);
  p.tabs[0] = {{}, 100, 0.1, 10};
  p.tabs[0].onion_skin = true;
  s.programRun().pieces = {p};
  EXPECT_TRUE(s.findings(tabs_weak_rule).empty());
  // In stock that it goes through elsewhere, both are told.
  s.saidThickness().reset();
  s.measures(19);
  s.floor(0.7);
  EXPECT_EQ(s.findings(floor_thin_rule).size(), 1u);
  EXPECT_EQ(s.findings(tabs_weak_rule).size(), 1u);
}

TEST(ThroughCutShort, a_measured_sheet_is_not_told_to_be_measured) {
  MeasuredSheet s(18.4);
  s.job().stock.material = Material::plywood;
  s.job().stock.material_given = true;
  s.job().stock.size_mm.z = 18;
  s.programRun().doubtful_throughs = {{s.lastIndex(), {}, 0, 0.44, 300, ThroughDoubt::as_sold, 0.3}};
  EXPECT_TRUE(s.findings(thickness_as_sold_rule).empty());
  s.saidThickness().reset();
  EXPECT_EQ(s.findings(thickness_as_sold_rule).size(), 1u);
}

// 18 mm MDF and acrylic, zero on top, to Z -17.9: how a sheet is sold changes nothing about the skin of the one said.
TEST(ThroughCutShort, a_tenth_left_in_a_sheet_is_told_and_not_to_cut_less_deep) {
  for (const Material material : {Material::mdf, Material::acrylic, Material::softwood}) {
    MeasuredSheet s(18, -17.9);
    s.saidThickness().reset();
    s.job().stock.material = material;
    s.job().stock.material_given = true;
    s.floor(0.1);
    if (material != Material::softwood)
      s.programRun().doubtful_throughs = {{s.lastIndex(), {}, 0.1, 0.3, 300, ThroughDoubt::as_sold, 0}};
    EXPECT_EQ(s.count(), 1u);
    EXPECT_TRUE(s.findings(floor_thin_rule).empty());
    EXPECT_TRUE(s.findings(thickness_as_sold_rule).empty());
    s.floor(0.5);  // a pocket's
    EXPECT_EQ(s.count(), 0u);
    EXPECT_EQ(s.findings(floor_thin_rule).size(), 1u);
  }
}

}  // namespace
}  // namespace provecut
