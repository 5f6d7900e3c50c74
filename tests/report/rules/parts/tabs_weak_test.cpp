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
            "Make this tab thicker (it is 8 mm long and 0.1 mm thick), or hold the part with tape or a clamp.");
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
