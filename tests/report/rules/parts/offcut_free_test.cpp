#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(OffcutFree, a_disc_left_in_a_hole_is_an_offcut) {
  Scene s;
  s.feed({10, 10, -18.2});
  Piece p;
  p.move = s.lastIndex();
  p.plan_area_mm2 = 50.3;  // a disc of 8 mm
  p.bounds.add(WorkPoint{46, 46, -18});
  p.bounds.add(WorkPoint{54, 54, 0});
  p.free = true;
  s.programRun().pieces.push_back(p);
  const auto findings = s.findings(offcut_free_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 50.3);
  EXPECT_EQ(findings[0].message, "this move cuts an 8 × 8 × 18 mm offcut loose; nothing holds it");
  EXPECT_TRUE(s.findings(part_free_rule).empty());
}

// The waste of three openings: two alike, the second turned by a quarter, and one larger.
TEST(OffcutFree, the_waste_of_equal_openings_is_one_finding) {
  Scene s;
  for (const Vec2 size : {Vec2{24, 18}, Vec2{18, 24}, Vec2{24, 20}}) {
    s.feed({10, 10, -18.2});
    Piece p;
    p.move = s.lastIndex();
    p.plan_area_mm2 = size.x * size.y;
    p.bounds.add(WorkPoint{40, 40, -18});
    p.bounds.add(WorkPoint{40 + size.x, 40 + size.y, 0});
    p.free = true;
    s.programRun().pieces.push_back(p);
  }
  const auto findings = s.findings(offcut_free_rule);
  ASSERT_EQ(findings.size(), 2u);
  EXPECT_EQ(findings[0].message, "this move cuts a 24 × 18 × 18 mm offcut loose; nothing holds it");
  EXPECT_EQ(findings[0].moves, 2u);
  ASSERT_EQ(findings[0].related.size(), 1u);
  EXPECT_EQ(findings[0].related[0].place.line, 2u);
  EXPECT_EQ(findings[1].place.line, 3u);
}

TEST(OffcutFree, one_that_the_bit_cuts_into_is_told_apart_from_one_that_it_leaves_alone) {
  Scene s;
  for (int k = 0; k < 2; ++k) {
    s.feed({10, 10, -18.2});
    Piece p;
    p.move = s.lastIndex();
    p.plan_area_mm2 = 400;
    p.bounds.add(WorkPoint{40, 40, -18});
    p.bounds.add(WorkPoint{60, 60, 0});
    p.free = true;
    if (k == 1) p.cut_loose = {{{0, 1}, true}};
    s.programRun().pieces.push_back(p);
  }
  EXPECT_EQ(s.findings(offcut_free_rule).size(), 2u);
}

// 23 mm² of tape: a patch counts from 5 × 5 mm. A tab of 15 mm² in 1.6 mm would be longer than the core.
TEST(OffcutFree, a_little_tape_is_told_and_no_tab_asked_for_that_is_longer_than_the_offcut) {
  Scene s;
  s.feed({10, 10, -1.8});
  Piece p;
  p.move = s.lastIndex();
  p.plan_area_mm2 = 21.5;
  p.bounds.add(WorkPoint{53.1, 5.9, -1.6});
  p.bounds.add(WorkPoint{56, 14.1, 0});
  p.free = true;
  p.little_tape_mm2 = 21;
  s.programRun().pieces.push_back(p);
  const auto findings = s.findings(offcut_free_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_NE(findings[0].message.find("offcut loose; only 21 mm² of tape holds it"), std::string::npos);
  EXPECT_EQ(findings[0].help, "Clear it out as a pocket, or leave a thin skin under it.");
}

TEST(OffcutFree, one_held_by_a_tab_is_not_free) {
  Scene s;
  s.feed({10, 10, -18.2});
  Piece p;
  p.move = s.lastIndex();
  p.plan_area_mm2 = 50.3;
  p.tabs.push_back({});
  s.programRun().pieces.push_back(p);
  EXPECT_TRUE(s.findings(offcut_free_rule).empty());
}

// The tip between lead-in and lead-out of an 8 mm bit.
struct Tip : Scene {
  Piece p;
  Tip() {
    feed({10, 10, -18.2});
    p.move = lastIndex();
    p.cutter_mm = 8;
    p.free = true;
    size(4, 3.5);
  }
  void size(double x_mm, double y_mm) {
    p.bounds = {};
    p.bounds.add(WorkPoint{46, 46, -18});
    p.bounds.add(WorkPoint{46 + x_mm, 46 + y_mm, 0});
    p.plan_area_mm2 = x_mm * y_mm;
  }
  std::size_t count() {
    programRun().pieces = {p};
    return findings(offcut_free_rule).size();
  }
  Level level() {
    programRun().pieces = {p};
    return findings(offcut_free_rule).at(0).level;
  }
};

TEST(OffcutFree, a_crumb_smaller_both_ways_than_the_bit_is_only_a_note) {
  Tip s;
  EXPECT_EQ(s.level(), Level::note);
  s.size(7.9, 7.9);
  EXPECT_EQ(s.level(), Level::note);
  s.size(8.1, 2);
  EXPECT_EQ(s.level(), Level::look);
  s.size(2, 8.1);
  EXPECT_EQ(s.level(), Level::look);
}

TEST(OffcutFree, a_crumb_that_the_bit_comes_back_to_is_told) {
  Tip s;
  s.p.cut_loose = {{{0, 0}, true}};
  EXPECT_EQ(s.level(), Level::look);
}

TEST(OffcutFree, no_tab_of_15_square_millimetres_is_asked_for_on_an_offcut_of_14) {
  Tip s;
  s.p.cutter_mm = 3;
  ASSERT_EQ(s.count(), 1u);
  EXPECT_EQ(s.findings(offcut_free_rule)[0].help, "Clear it out as a pocket, or leave a thin skin under it.");
  s.size(20, 20);
  ASSERT_EQ(s.count(), 1u);
  EXPECT_NE(s.findings(offcut_free_rule)[0].help.find("leave a tab of at least 15 mm²"), std::string::npos);
}

}  // namespace
}  // namespace provecut
