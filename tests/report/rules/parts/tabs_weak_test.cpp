#include <gmock/gmock.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

using ::testing::EndsWith;
using ::testing::HasSubstr;

Tab tab(double length_mm, double thickness_mm) {
  Tab t;
  t.at = {58, 10, -16};
  t.length_mm = length_mm;
  t.thickness_mm = thickness_mm;
  t.area_mm2 = length_mm * thickness_mm;
  return t;
}

struct Tabbed : Scene {
  Tabbed() {
    job().limits.min_tab_area_mm2 = 15;
    feed({10, 10, -18.2});
    Piece p;
    p.move = lastIndex();
    p.plan_area_mm2 = 4320;
    p.bounds.add(WorkPoint{10, 10, -18});
    p.bounds.add(WorkPoint{106, 55, 0});
    programRun().pieces.push_back(p);
  }
  Piece& piece() { return programRun().pieces.front(); }
};

TEST(TabsWeak, a_tab_shorter_than_meant_is_told_with_the_length_it_needs) {
  Tabbed s;
  s.piece().tabs = {tab(8, 3), tab(2, 3)};
  const auto findings = s.findings(tabs_weak_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 6);
  EXPECT_EQ(findings[0].unit, "mm²");
  EXPECT_EQ(findings[0].message,
            "a 96 × 45 × 18 mm part is held only by 2 tabs; the smallest has 6 mm² (minimum 15 mm²)");
  EXPECT_EQ(findings[0].help, "Leave this tab at least 5 mm long (it is 2 mm long and 3 mm thick).");
}

// 15 mm² at 2 mm thick is 7.5 mm, at 3 mm thick 5 mm.
TEST(TabsWeak, several_tabs_too_small_are_all_to_be_as_long_as_the_thinnest_needs) {
  Tabbed s;
  s.piece().tabs = {tab(3, 2), tab(2, 3), tab(1.8, 3)};
  EXPECT_EQ(s.findings(tabs_weak_rule).at(0).help,
            "Leave every tab at least 7.5 mm long (the smallest is 1.8 mm long and 3 mm thick).");
}

TEST(TabsWeak, two_tabs_of_just_the_wanted_area_are_enough) {
  Tabbed s;
  s.piece().tabs = {tab(5, 3), tab(5, 3)};
  EXPECT_TRUE(s.findings(tabs_weak_rule).empty());
}

TEST(TabsWeak, a_hundredth_of_a_square_millimetre_less_is_not) {
  Tabbed s;
  s.piece().tabs = {tab(5, 3), tab(4.995, 3)};
  EXPECT_EQ(s.findings(tabs_weak_rule).size(), 1u);
}

TEST(TabsWeak, one_tab_is_too_few_for_a_part_and_enough_for_an_offcut) {
  Tabbed s;
  s.piece().tabs = {tab(8, 3)};
  ASSERT_EQ(s.findings(tabs_weak_rule).size(), 1u);
  EXPECT_EQ(s.findings(tabs_weak_rule)[0].message,
            "a 96 × 45 × 18 mm part is held only by one tab; a part needs at least 2 tabs");
  EXPECT_EQ(s.findings(tabs_weak_rule)[0].help, "Add one tab.");
  s.piece().plan_area_mm2 = 600;
  EXPECT_TRUE(s.findings(tabs_weak_rule).empty());
}

// 15 mm² over 20 mm is 0.75 mm.
TEST(TabsWeak, a_skin_too_thin_is_to_be_thicker_and_never_longer) {
  Tabbed s;
  Tab skin = tab(20, 0.1);
  skin.onion_skin = true;
  s.piece().tabs = {skin};
  const auto findings = s.findings(tabs_weak_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_NE(findings[0].message.find("; it has 2 mm² (minimum 15 mm²)"), std::string::npos) << findings[0].message;
  EXPECT_EQ(findings[0].help, "Leave the skin at least 0.8 mm thick, or hold the part with tape or a clamp.");
}

// At 0.1 mm thick it would have to be 150 mm long, and the part is 96 mm long.
TEST(TabsWeak, no_tab_is_to_be_longer_than_its_part) {
  Tabbed s;
  s.piece().tabs = {tab(8, 3), tab(8, 0.1)};
  ASSERT_EQ(s.findings(tabs_weak_rule).size(), 1u);
  EXPECT_EQ(s.findings(tabs_weak_rule)[0].help,
            "Make this tab at least 1.9 mm thick (it is 8 mm long and 0.1 mm thick), or hold the part with tape or a "
            "clamp.");
}

TEST(TabsWeak, the_grain_is_mentioned_but_no_reason_of_its_own) {
  Tabbed s;
  s.piece().tabs = {tab(8, 3), tab(8, 3)};
  s.piece().tabs[1].along_grain = true;
  EXPECT_TRUE(s.findings(tabs_weak_rule).empty());
  s.piece().tabs[0] = tab(2, 3);
  ASSERT_EQ(s.findings(tabs_weak_rule).size(), 1u);
  EXPECT_NE(s.findings(tabs_weak_rule)[0].message.find(
                "one of them sits where the kerf runs along the grain and holds far less there"),
            std::string::npos);
}

TEST(TabsWeak, tabs_that_all_sit_along_the_grain_are_told_in_a_word) {
  Tabbed s;
  Tab along = tab(2, 3);
  along.along_grain = true;
  const auto said = [&] { return s.findings(tabs_weak_rule).at(0).message; };
  s.piece().tabs = {along};
  EXPECT_THAT(said(), HasSubstr("; it sits where the kerf runs along the grain and holds far less there"));
  s.piece().tabs = {along, along};
  EXPECT_THAT(said(), HasSubstr("; both sit where the kerf runs along the grain and hold far less there"));
  s.piece().tabs = {along, along, along};
  EXPECT_THAT(said(), HasSubstr("; all sit where"));
  s.piece().tabs[2].along_grain = false;
  EXPECT_THAT(said(), HasSubstr("; 2 of them sit where"));
}

TEST(TabsWeak, an_offcut_is_to_be_held_with_tape) {
  Tabbed s;
  s.piece().plan_area_mm2 = 200;
  s.piece().tabs = {tab(8, 0.1)};
  EXPECT_THAT(s.findings(tabs_weak_rule).at(0).help, EndsWith(", or hold the offcut with tape."));
}

TEST(TabsWeak, a_part_that_a_screw_or_tape_holds_is_not_held_by_tabs_alone) {
  Tabbed s;
  s.piece().tabs = {tab(2, 3)};
  s.piece().held_by_hold_downs = {0};
  EXPECT_TRUE(s.findings(tabs_weak_rule).empty());
  s.piece().held_by_hold_downs.clear();
  s.piece().held_by_tape = true;
  EXPECT_TRUE(s.findings(tabs_weak_rule).empty());
}

TEST(TabsWeak, an_onion_skin_is_one_web_and_enough) {
  Tabbed s;
  Tab skin = tab(260, 0.4);
  skin.onion_skin = true;
  s.piece().tabs = {skin};
  EXPECT_TRUE(s.findings(tabs_weak_rule).empty());
}

// In aluminium a tab of 4 x 0.75 mm over a 4 mm kerf bears 310 x 0.75 x 16 / 12 / 2 = 155 N (a beam held at both ends,
// half of its strength). A 2-flute bit at 1000 mm/min and 18000 rpm pushes far less than half of that at 0.5 mm deep.
struct AluminiumTabs : Tabbed {
  AluminiumTabs() {
    job().stock.material = Material::aluminium;
    job().stock.material_given = true;
    cuts(0.5, 0.5);
    piece().beside = {{0, lastIndex()}};
    Tab t = tab(4, 0.75);
    t.kerf_mm = 4;
    piece().tabs = {t, t, t, t};
  }
};

TEST(TabsWeak, small_tabs_of_a_strong_material_hold_what_they_must) {
  AluminiumTabs s;
  EXPECT_TRUE(s.findings(tabs_weak_rule).empty());
  // The same deep enough to push with half of what they bear.
  s.cuts(60, 60);
  EXPECT_EQ(s.findings(tabs_weak_rule).size(), 1u);
}

TEST(TabsWeak, a_limit_that_the_owner_set_counts_whatever_the_tabs_bear) {
  AluminiumTabs s;
  s.job().limits.min_tab_area_given = true;
  EXPECT_EQ(s.findings(tabs_weak_rule).size(), 1u);
}

TEST(TabsWeak, tabs_of_a_material_that_nobody_named_are_judged_by_their_size) {
  AluminiumTabs s;
  s.job().stock.material_given = false;
  EXPECT_EQ(s.findings(tabs_weak_rule).size(), 1u);
}

TEST(TabsWeak, what_a_thinner_stock_leaves_of_the_smallest_is_said) {
  Tabbed s;
  s.job().stock.thickness_tolerance_mm = 0.4;
  s.piece().tabs = {tab(6, 1), tab(6, 1)};
  EXPECT_THAT(s.findings(tabs_weak_rule).at(0).message,
              EndsWith("; the smallest has 6 mm² (minimum 15 mm²), 3.6 mm² where the stock is 0.4 mm thinner"));
  s.job().stock.thickness_tolerance_mm = 1;
  EXPECT_THAT(s.findings(tabs_weak_rule).at(0).message, EndsWith(" and is gone where the stock is 1 mm thinner"));
  s.setup().zero_z_on_top = false;  // cut from the spoilboard up, they are as thick in any stock
  EXPECT_THAT(s.findings(tabs_weak_rule).at(0).message, EndsWith("(minimum 15 mm²)"));
}

// 20 mm² at 2 mm thick; 1.5 mm thinner it is 5 mm², less than half of the 15 wanted.
TEST(TabsWeak, a_tab_that_a_thinner_stock_more_than_halves_is_too_small_though_its_nominal_size_is_enough) {
  Tabbed s;
  s.piece().tabs = {tab(10, 2), tab(10, 2)};
  EXPECT_TRUE(s.findings(tabs_weak_rule).empty());
  s.job().stock.thickness_tolerance_mm = 1.5;
  EXPECT_EQ(s.findings(tabs_weak_rule).size(), 1u);
}

TEST(TabsWeak, parts_on_tabs_of_one_height_are_one_finding) {
  Tabbed s;
  s.piece().tabs = {tab(6, 1), tab(6, 1)};
  Piece second = s.piece(), third = s.piece();
  s.feed({50, 10, -18.2});
  second.move = s.lastIndex();
  second.tabs = {tab(4, 1.1), tab(6, 1)};
  s.feed({60, 10, -18.2});
  third.move = s.lastIndex();
  third.tabs = {tab(2, 3), tab(8, 3)};
  s.programRun().pieces.push_back(second);
  s.programRun().pieces.push_back(third);
  const auto findings = s.findings(tabs_weak_rule);
  ASSERT_EQ(findings.size(), 2u);
  EXPECT_EQ(findings[0].subject, "part 1");
  EXPECT_EQ(findings[0].moves, 2u);
  EXPECT_EQ(findings[0].last_line, 2u);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 4.4);
  EXPECT_THAT(findings[0].message, EndsWith("; 1 more part hangs on weak tabs, the smallest has 4.4 mm²"));
  ASSERT_EQ(findings[0].related.size(), 1u);
  EXPECT_EQ(findings[0].related[0].place.line, 2u);
  EXPECT_EQ(findings[1].place.line, 3u);
}

// 15 mm² at 0.4 mm thick were 37.5 mm long, more than any tab; at 3 mm long 5 mm thick.
TEST(TabsWeak, thin_tabs_are_to_be_thicker_where_the_length_would_be_no_tabs) {
  Tabbed s;
  s.piece().tabs = {tab(3, 0.4), tab(3, 0.4)};
  EXPECT_THAT(s.findings(tabs_weak_rule).at(0).help, HasSubstr("Make every tab at least 5 mm thick (the smallest is"));
  s.piece().tabs = {tab(1, 0.4), tab(1, 0.4)};
  EXPECT_THAT(s.findings(tabs_weak_rule).at(0).help, HasSubstr("Make every tab at least 1.7 mm long and 9 mm thick"));
}

TEST(TabsWeak, what_held_the_part_until_this_program_is_named) {
  Tabbed s;
  const int clamp_a = s.addHoldDown(clamp("clamp A", {30, 30}, {20, 20}, 12));
  s.piece().tabs = {tab(2, 3), tab(2, 3)};
  s.piece().held_before = {clamp_a};
  const auto findings = s.findings(tabs_weak_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message,
            "a 96 × 45 × 18 mm part is held only by 2 tabs when this program starts: clamp A held it before; the "
            "smallest has 6 mm² (minimum 15 mm²)");
}

}  // namespace
}  // namespace provecut
