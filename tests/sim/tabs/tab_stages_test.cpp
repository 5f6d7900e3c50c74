// Tabs that one program leaves and cuts again: the part stands on them in between.
#include <gtest/gtest.h>

#include <algorithm>

#include "tests/sim/scene.h"

namespace provecut::testing {
namespace tab_stages_test {

constexpr double thickness = 12;
constexpr double through = -thickness - 0.2;
constexpr WorkPoint2 low{57, 32}, high{143, 88};  // the cutter's path round a part of 80 x 50
constexpr double left_mm = 8, tab_thickness_mm = 3;

Job stock() {
  Job job = stockOf({200, 120, thickness}, {flatTool(1, 6)});
  HoldDown clamp;
  clamp.name = "clamp";
  clamp.kind = HoldDownKind::clamp;
  clamp.at_mm = {10, 60};
  clamp.size_mm = {30, 20};
  clamp.top_mm = 5;
  job.hold_downs = {clamp};
  return job;
}

Run check(const std::vector<Program>& programs) {
  Job job = stock();
  for (std::size_t i = 0; i < programs.size(); ++i) addProgram(job, 0, 1, {0});
  return run(job, programs);
}

// An outline round a part with a tab in the middle of its lower and of its upper side; `out`: finished so much outside.
Moves& outline(Moves& m, double out = 0) {
  const double half = (left_mm + 6) / 2, tab_z = -thickness + tab_thickness_mm;
  const double x0 = low.x - out, x1 = high.x + out, y0 = low.y - out, y1 = high.y + out;
  m.rapid({x0, y0, 5}).feed({x0, y0, through}).feed({100 - half, y0, through}).feed({100 - half, y0, tab_z});
  m.feed({100 + half, y0, tab_z}).feed({100 + half, y0, through}).feed({x1, y0, through}).feed({x1, y1, through});
  m.feed({100 + half, y1, through}).feed({100 + half, y1, tab_z}).feed({100 - half, y1, tab_z});
  return m.feed({100 - half, y1, through}).feed({x0, y1, through}).feed({x0, y0, through}).rapid({x0, y0, 5});
}

Moves& cutTab(Moves& m, double y, double x = 100) {
  return m.slot({{x - 10, y}, {x + 10, y}}, thickness + 0.2);
}

const Piece& onTabs(const Run& r, std::size_t program = 0) {
  const auto& pieces = r.programs.at(program).pieces;
  const auto found = std::find_if(pieces.begin(), pieces.end(), [](const Piece& p) { return !p.tabs.empty(); });
  return *found;
}

std::size_t tabbedIn(const Run& r, std::size_t program = 0) {
  const auto& pieces = r.programs.at(program).pieces;
  return static_cast<std::size_t>(
      std::count_if(pieces.begin(), pieces.end(), [](const Piece& p) { return !p.tabs.empty(); }));
}

// True if any of these moves pushes at the part on its tabs.
bool pushes(const Run& r, std::uint32_t first, std::uint32_t last) {
  const auto& beside = onTabs(r).beside;
  return std::any_of(beside.begin(), beside.end(), [&](const MoveRef& m) { return first <= m.move && m.move <= last; });
}

TEST(TabStages, a_part_that_is_cut_before_the_same_program_cuts_its_tabs_stands_on_them_until_then) {
  Moves m(1);
  outline(m);
  const std::uint32_t closed = m.count() - 2;  // the last side, before the cutter goes up
  m.slot({{90, 60}, {110, 60}}, 4);
  cutTab(m, low.y);
  cutTab(m, high.y);
  const auto r = check({m.program()});
  ASSERT_EQ(tabbedIn(r), 1U);
  const Piece& p = onTabs(r);
  EXPECT_EQ(p.move, closed);
  ASSERT_EQ(p.tabs.size(), 2U);
  for (const Tab& t : p.tabs) EXPECT_NEAR(t.area_mm2, left_mm * tab_thickness_mm, 0.05 * left_mm * tab_thickness_mm);
  const auto& pieces = r.programs[0].pieces;
  ASSERT_EQ(std::count_if(pieces.begin(), pieces.end(), [](const Piece& piece) { return piece.free; }), 1);
  const auto loose = std::find_if(pieces.begin(), pieces.end(), [](const Piece& piece) { return piece.free; });
  ASSERT_TRUE(loose->told_before);
  EXPECT_EQ(&pieces[loose->told_before->piece], &p);
}

TEST(TabStages, what_is_cut_in_the_part_before_its_tabs_go_is_told_and_what_is_cut_after_is_told_as_cut_while_loose) {
  Moves m(1);
  outline(m).slot({{90, 60}, {110, 60}}, 4);
  const std::uint32_t inside = m.count() - 2;
  cutTab(cutTab(m, low.y), high.y).slot({{90, 70}, {110, 70}}, 4);
  const std::uint32_t later = m.count() - 2;
  const auto r = check({m.program()});
  ASSERT_EQ(r.programs[0].cuts_in_tabbed.size(), 1U);
  const CutInTabbed& cut = r.programs[0].cuts_in_tabbed[0];
  EXPECT_EQ(cut.last, inside);
  EXPECT_EQ(cut.moves, 2U);
  const auto& pieces = r.programs[0].pieces;
  const auto loose = std::find_if(pieces.begin(), pieces.end(), [](const Piece& p) { return p.free; });
  ASSERT_NE(loose, pieces.end());
  ASSERT_FALSE(loose->cut_loose.empty());
  for (const CutAtLoose& c : loose->cut_loose) EXPECT_TRUE(c.by.move == later || c.by.move == later - 1);
}

TEST(TabStages, the_same_holds_where_a_later_program_cuts_inside_and_then_the_tabs) {
  Moves first(1), second(1);
  outline(first);
  second.slot({{90, 60}, {110, 60}}, 4);
  cutTab(cutTab(second, low.y), high.y).slot({{90, 70}, {110, 70}}, 4);
  const auto r = check({first.program(), second.program()});
  ASSERT_EQ(r.programs[1].cuts_in_tabbed.size(), 1U);
  EXPECT_EQ(r.programs[1].cuts_in_tabbed[0].moves, 2U);
  EXPECT_EQ(r.programs[1].cuts_in_tabbed[0].tabbed_since_run, 0);
}

TEST(TabStages, a_pocket_in_the_part_pushes_at_its_tabs_and_a_hole_drilled_in_it_does_not) {
  Moves pocket(1), hole(1);
  outline(pocket).slot({{90, 60}, {110, 60}}, 4);
  outline(hole);
  const std::uint32_t first = hole.count();
  hole.slot({{100, 60}}, 4);
  EXPECT_TRUE(pushes(check({pocket.program()}), first, pocket.count()));
  EXPECT_FALSE(pushes(check({hole.program()}), first, hole.count()));
}

TEST(TabStages, parts_cut_out_one_after_the_other_are_all_told) {
  Moves m(1);
  for (const double y : {20.0, 70.0}) {
    for (const double x : {50.0, 110.0}) {
      m.slot({{x + 3, y}, {x + 30, y}, {x + 30, y + 30}, {x, y + 30}, {x, y + 5}}, thickness + 0.2);
      m.slot({{x, y + 8}, {x, y}, {x + 6, y}}, thickness + 0.2);
    }
  }
  const auto r = check({m.program()});
  EXPECT_EQ(tabbedIn(r), 0U);  // a side of it left whole is no tab
  const auto& pieces = r.programs[0].pieces;
  EXPECT_EQ(std::count_if(pieces.begin(), pieces.end(), [](const Piece& p) { return p.free; }), 4);
}

TEST(TabStages, tabs_that_are_cut_at_once_are_told_by_the_line_that_parts_alone) {
  Moves m(1);
  outline(m);
  cutTab(cutTab(m, low.y), high.y).slot({{20, 20}, {40, 20}}, 4);
  const auto r = check({m.program()});
  ASSERT_EQ(r.programs[0].pieces.size(), 1U);
  EXPECT_TRUE(r.programs[0].pieces[0].free);
}

TEST(TabStages, an_outline_in_several_depths_leaves_no_tabs_on_the_way) {
  Moves m(1);
  for (const double z : {-4.0, -8.0, -11.5, through}) m.rectangle(low, high, z);
  const auto r = check({m.program()});
  EXPECT_EQ(tabbedIn(r), 0U);
  EXPECT_EQ(r.programs[0].pieces.size(), 1U);
}

TEST(TabStages, tabs_that_are_made_thinner_before_the_part_is_cut_are_as_thin_as_that) {
  Moves m(1);
  outline(m);
  for (const double y : {low.y, high.y}) m.slot({{90, y}, {110, y}}, thickness - 1);
  m.slot({{90, 60}, {110, 60}}, 4);
  cutTab(cutTab(m, low.y), high.y);
  const auto r = check({m.program()});
  ASSERT_EQ(tabbedIn(r), 1U);
  ASSERT_EQ(onTabs(r).tabs.size(), 2U);
  for (const Tab& t : onTabs(r).tabs) EXPECT_NEAR(t.area_mm2, left_mm, 0.05 * left_mm);
}

// The outline begins at one side's end and has its tab there, where the lift takes nothing off.
TEST(TabStages, a_short_last_stretch_of_the_outline_is_no_tab) {
  for (const double x : {57.0, 57.1, 57.13}) {
    Moves m(1);
    m.rapid({x, 80, 5}).feed({x, 80, through}).feed({x, high.y, through}).feed({high.x, high.y, through});
    m.feed({high.x, low.y, through}).feed({x, low.y, through}).feed({x, 53, through}).feed({x, 53, -9});
    m.feed({x, 67, -9}).feed({x, 67, through}).feed({x, 80, through}).rapid({x, 80, 5});
    m.slot({{90, 60}, {110, 60}}, 4).slot({{x, 50}, {x, 70}}, thickness + 0.2);
    const auto r = check({m.program()});
    ASSERT_EQ(tabbedIn(r), 1U) << x;
    ASSERT_EQ(onTabs(r).tabs.size(), 1U) << x;
    EXPECT_NEAR(onTabs(r).tabs[0].area_mm2, left_mm * tab_thickness_mm, 0.05 * left_mm * tab_thickness_mm) << x;
  }
}

TEST(TabStages, what_is_cut_before_and_after_one_tab_goes_is_told_with_the_tabs_of_its_time) {
  Moves m(1);
  outline(m).slot({{90, 60}, {110, 60}}, 4);
  cutTab(m, low.y).slot({{90, 70}, {110, 70}}, 4);
  const std::uint32_t second = m.count() - 3;
  cutTab(m, high.y);
  const auto r = check({m.program()});
  const auto& pieces = r.programs[0].pieces;
  ASSERT_EQ(pieces.size(), 3U);
  std::vector<std::size_t> on(3, 3);  // by the count of tabs
  for (std::size_t k = 0; k < pieces.size(); ++k) on[pieces[k].tabs.size()] = k;
  ASSERT_TRUE(on[0] < 3 && on[1] < 3 && on[2] < 3);
  EXPECT_EQ(pieces[on[1]].told_before, (PieceRef{0, on[2]}));
  EXPECT_EQ(pieces[on[0]].told_before, (PieceRef{0, on[1]}));
  const auto& cuts = r.programs[0].cuts_in_tabbed;
  ASSERT_EQ(cuts.size(), 2U);
  EXPECT_EQ(cuts[0].piece, on[2]);
  EXPECT_EQ(cuts[1].piece, on[1]);
  EXPECT_EQ(cuts[0].moves, 2U);
  EXPECT_EQ(cuts[1].moves, 2U);
  EXPECT_GE(cuts[1].first, second);
}

TEST(TabStages, a_move_before_the_first_tool_changes_nothing) {
  Moves m(1), first(0);
  outline(m).slot({{90, 60}, {110, 60}}, 4);
  cutTab(cutTab(m, low.y), high.y);
  Program program = m.program();
  Program before = first.rapid({0, 0, 30}).program();
  program.motions.insert(program.motions.begin(), before.motions.begin(), before.motions.end());
  EXPECT_EQ(tabbedIn(check({program})), 1U);
}

TEST(TabStages, a_part_that_keeps_one_of_its_tabs_has_been_on_both_since_its_outline_closed) {
  Moves m(1);
  outline(m);
  const std::uint32_t closed = m.count() - 2;
  m.slot({{90, 60}, {110, 60}}, 4);
  cutTab(m, low.y);
  const std::uint32_t cut = m.count() - 2;
  const auto r = check({m.program()});
  const auto& pieces = r.programs[0].pieces;
  ASSERT_EQ(pieces.size(), 2U);
  const std::size_t first = pieces[0].tabs.size() == 2 ? 0 : 1, then = 1 - first;
  EXPECT_EQ(pieces[first].move, closed);
  EXPECT_EQ(pieces[then].tabs.size(), 1U);
  EXPECT_EQ(pieces[then].move, cut);
  EXPECT_EQ(pieces[then].told_before, (PieceRef{0, first}));
  ASSERT_EQ(r.programs[0].cuts_in_tabbed.size(), 1U);
  EXPECT_EQ(r.programs[0].cuts_in_tabbed[0].piece, first);
  EXPECT_EQ(r.programs[0].cuts_in_tabbed[0].moves, 2U);
}

TEST(TabStages, a_part_that_keeps_its_tabs_is_told_once) {
  Moves m(1);
  outline(m).slot({{90, 60}, {110, 60}}, 4).slot({{20, 20}, {40, 20}}, 4);
  for (const double x : {75.0, 125.0}) m.slot({{x, 50}, {x, 60}}, thickness + 0.2);  // holes are no tabs that go
  const auto r = check({m.program()});
  EXPECT_EQ(r.programs[0].pieces.size(), 1U);
}

}  // namespace tab_stages_test
}  // namespace provecut::testing
