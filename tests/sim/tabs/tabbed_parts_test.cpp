// Parts that hang: onion skins, what is cut in them and beside them, tabs that swallow an outline, and what holds what.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/sim/scene.h"

namespace provecut::testing {
namespace tabbed_parts_test {

constexpr double thickness = 12;
constexpr double through = -thickness - 0.2;
constexpr WorkPoint2 low{57, 32}, high{143, 88};  // the cutter's path round a part of 80 x 50

HoldDown holder(std::string name, HoldDownKind kind, SetupPoint2 at, Vec2 size) {
  HoldDown h;
  h.name = std::move(name);
  h.kind = kind;
  h.at_mm = at;
  h.size_mm = size;
  h.top_mm = 5;
  return h;
}

Job stock(std::vector<HoldDown> hold_downs = {}) {
  Job job = stockOf({200, 120, thickness}, {flatTool(1, 6)});
  if (hold_downs.empty()) hold_downs.push_back(holder("clamp", HoldDownKind::clamp, {10, 60}, {30, 20}));
  job.hold_downs = std::move(hold_downs);
  return job;
}

Run check(Job job, const std::vector<Program>& programs, const std::vector<std::vector<int>>& standing) {
  for (std::size_t i = 0; i < programs.size(); ++i) addProgram(job, 0, 1, standing[std::min(i, standing.size() - 1)]);
  return run(job, programs);
}

// The outline with a tab of `left` mm (after the cut) and `thick` in the middle of the lower and of the upper side.
Moves tabbed(double left = 8, double z = through, double thick = 3) {
  const double half = (left + 6) / 2, tab_z = -thickness + thick;
  Moves m(1);
  m.rapid({low.x, low.y, 5}).feed({low.x, low.y, z}).feed({100 - half, low.y, z}).feed({100 - half, low.y, tab_z});
  m.feed({100 + half, low.y, tab_z}).feed({100 + half, low.y, z}).feed({high.x, low.y, z}).feed({high.x, high.y, z});
  m.feed({100 + half, high.y, z}).feed({100 + half, high.y, tab_z}).feed({100 - half, high.y, tab_z});
  m.feed({100 - half, high.y, z}).feed({low.x, high.y, z}).feed({low.x, low.y, z}).rapid({low.x, low.y, 5});
  return m;
}

TEST(TabbedParts, a_skin_all_round_is_named_with_its_thickness_and_length) {
  const auto r = check(stock(), {Moves(1).rectangle(low, high, -thickness + 0.4).program()}, {{0}});
  ASSERT_EQ(r.programs[0].pieces.size(), 1U);
  ASSERT_EQ(r.programs[0].pieces[0].tabs.size(), 1U);
  const Tab& skin = r.programs[0].pieces[0].tabs[0];
  EXPECT_TRUE(skin.onion_skin);
  EXPECT_NEAR(skin.thickness_mm, 0.4, 0.02);
  // Round the part the skin is weakest: 2 x (80 + 50), outwards longer.
  EXPECT_NEAR(skin.length_mm, 260, 26);
}

TEST(TabbedParts, a_skin_between_tabs_is_named_with_its_own_thickness_whatever_the_tabs_are) {
  for (const double thick : {0.6, 3.0, 9.0}) {
    const auto r = check(stock(), {tabbed(14, -thickness + 0.2, thick).program()}, {{0}});
    ASSERT_EQ(r.programs[0].pieces.size(), 1U) << thick;
    const Piece& part = r.programs[0].pieces[0];
    EXPECT_TRUE(r.programs[0].still_attached.empty()) << thick;
    ASSERT_EQ(part.tabs.size(), 1U) << thick;
    const Tab& skin = part.tabs[0];
    EXPECT_TRUE(skin.onion_skin) << thick;
    EXPECT_EQ(skin.tabs_in_skin, thick > 1) << thick;
    EXPECT_NEAR(skin.thickness_mm, 0.2, 1e-3) << thick;
    EXPECT_NEAR(skin.length_mm, 260, 26) << thick;
    // All of it: the skin, and what the tabs of 14 mm have more.
    EXPECT_NEAR(skin.area_mm2, 260 * 0.2 + 2 * 14 * (thick - 0.2), 6) << thick;
  }
}

// Slits of 4 mm, left and right up from the front edge and a row of `slits` between them, webs of 4.5 mm from one to
// the next.
Program comb(int slits) {
  const double pitch = 100.0 / slits;
  Moves m(1);
  for (const double x : {10.0, 110.0}) m.slot({{x, -5}, {x, 40}}, 8.2);
  for (int k = 0; k < slits; ++k) {
    const double from = 10 + pitch * k, to = from + pitch;
    m.slot({{k == 0 ? from : from + 4.25, 40}, {k + 1 == slits ? to : to - 4.25, 40}}, 8.2);
  }
  return m.program();
}

TEST(TabbedParts, a_row_of_slits_with_webs_as_thick_as_the_stock_is_no_part_on_tabs) {
  Job job = stockOf({120, 60, 8}, {flatTool(1, 4)});
  job.hold_downs = {holder("clamp", HoldDownKind::clamp, {60, 55}, {30, 10})};
  EXPECT_TRUE(check(job, {comb(10)}, {{0}}).programs[0].pieces.empty());
  const auto few = check(job, {comb(4)}, {{0}});
  ASSERT_EQ(few.programs[0].pieces.size(), 1U);
  EXPECT_EQ(few.programs[0].pieces[0].tabs.size(), 3U);
}

TEST(TabbedParts, tabs_are_no_skin_and_know_kerf_and_grain) {
  Job job = stock();
  job.stock.grain = Grain::x;
  const auto r = check(job, {tabbed().program()}, {{0}});
  ASSERT_EQ(r.programs[0].pieces.size(), 1U);
  ASSERT_EQ(r.programs[0].pieces[0].tabs.size(), 2U);
  for (const Tab& t : r.programs[0].pieces[0].tabs) {
    EXPECT_FALSE(t.onion_skin);
    EXPECT_NEAR(t.kerf_mm, 6, 0.5);
    EXPECT_NEAR(t.grain_deg, 90, 1);  // the kerf runs along x, with the grain
    EXPECT_TRUE(t.along_grain);
  }
}

// Lift 14 with a 6 mm bit leaves 8, lift 5 none: lifted length less the diameter (geometry).
TEST(Trap, a_tab_is_shorter_than_programmed_by_the_whole_diameter) {
  const auto longestTab = [](double lift) {
    const auto r = check(stock(), {tabbed(lift - 6).program()}, {{0}});
    double longest = 0;
    for (const Piece& p : r.programs[0].pieces) {
      for (const Tab& t : p.tabs) longest = std::max(longest, t.length_mm);
    }
    return longest;
  };
  EXPECT_NEAR(longestTab(14), 8, 0.4);
  EXPECT_EQ(longestTab(5), 0);
}

TEST(TabbedParts, the_last_tab_cut_frees_the_part_at_that_line) {
  Moves cut(1);
  cut.rapid({90, low.y, 5}).feed({90, low.y, through}).feed({110, low.y, through}).rapid({110, low.y, 5});
  cut.rapid({90, high.y, 5}).feed({90, high.y, through}).feed({110, high.y, through}).rapid({110, high.y, 5});
  const auto r = check(stock(), {tabbed().program(), cut.program()}, {{0}});
  ASSERT_EQ(r.programs[1].pieces.size(), 1U);
  EXPECT_TRUE(r.programs[1].pieces[0].free);
  EXPECT_EQ(r.programs[1].pieces[0].move, 6U);
  EXPECT_EQ(r.programs[1].pieces[0].told_before, (PieceRef{0, 0}));
}

TEST(TabbedParts, tabs_that_a_later_program_makes_thinner_are_measured_again) {
  Moves lower(1), pocket(1);
  lower.slot({{90, low.y}, {110, low.y}}, thickness - 1.5);
  pocket.slot({{90, 60}, {110, 60}}, 4);
  const auto r = check(stock(), {tabbed().program(), lower.program(), pocket.program()}, {{0}});
  ASSERT_EQ(r.programs[1].pieces.size(), 1U);
  const Piece& p = r.programs[1].pieces[0];
  EXPECT_EQ(p.told_before, (PieceRef{0, 0}));
  ASSERT_EQ(p.tabs.size(), 2U);
  const auto [least, most] = std::minmax(p.tabs[0].area_mm2, p.tabs[1].area_mm2);
  EXPECT_NEAR(least, 8 * 1.5, 0.05 * 8 * 1.5);
  EXPECT_NEAR(most, 8 * 3, 0.05 * 8 * 3);
  ASSERT_EQ(r.programs[2].cuts_in_tabbed.size(), 1U);
  EXPECT_EQ(r.programs[2].cuts_in_tabbed[0].tabbed_since_run, 1);
}

TEST(TabbedParts, what_a_later_program_cuts_in_the_part_before_it_cuts_some_of_its_tabs_is_told) {
  for (const double depth : {-through, thickness - 1.5}) {  // one goes, or gets thinner
    Moves m(1);
    m.slot({{90, 60}, {110, 60}}, 4).slot({{90, low.y}, {110, low.y}}, depth).slot({{90, 70}, {110, 70}}, 4);
    const auto r = check(stock(), {tabbed().program(), m.program()}, {{0}});
    const auto& cuts = r.programs[1].cuts_in_tabbed;
    ASSERT_EQ(cuts.size(), 2U) << depth;
    const auto& [first, second] =
        cuts[0].tabbed_since_run == 0 ? std::pair(cuts[0], cuts[1]) : std::pair(cuts[1], cuts[0]);
    EXPECT_EQ(first.tabbed_since_run, 0);
    EXPECT_EQ(first.moves, 2U);
    EXPECT_EQ(first.last, 2U);
    EXPECT_EQ(second.tabbed_since_run, 1);
    EXPECT_EQ(second.moves, 2U);
  }
}

// What else holds the part counts program by program.
TEST(TabbedParts, once_its_clamp_is_taken_off_only_its_tabs_hold_the_part) {
  const auto clamps = stock({holder("clamp", HoldDownKind::clamp, {10, 60}, {30, 20}),
                             holder("on the part", HoldDownKind::clamp, {70, 75}, {15, 15})});
  Moves pocket(1), again(1);
  pocket.slot({{100, 50}, {120, 50}}, 4);
  again.slot({{100, 70}, {120, 70}}, 4);
  const auto r = check(clamps, {tabbed().program(), pocket.program(), again.program()}, {{0, 1}, {0, 1}, {0}});
  ASSERT_EQ(r.programs[0].pieces.size(), 1U);
  EXPECT_FALSE(r.programs[0].pieces[0].held_by_hold_downs.empty());
  EXPECT_TRUE(r.programs[1].pieces.empty());
  EXPECT_TRUE(r.programs[1].cuts_in_tabbed.empty());
  ASSERT_EQ(r.programs[2].pieces.size(), 1U);
  const Piece& p = r.programs[2].pieces[0];
  EXPECT_EQ(p.held_before, std::vector<int>{1});
  EXPECT_EQ(p.told_before, (PieceRef{0, 0}));
  EXPECT_FALSE(p.free);
  EXPECT_EQ(p.tabs.size(), 2U);
  EXPECT_TRUE(p.held_by_hold_downs.empty());
  EXPECT_FALSE(p.beside.empty());
  ASSERT_EQ(r.programs[2].cuts_in_tabbed.size(), 1U);
  EXPECT_EQ(r.programs[2].cuts_in_tabbed[0].tabbed_since_run, 2);
}

TEST(TabbedParts, a_clamp_fitted_on_the_part_for_a_later_program_holds_it_there) {
  const auto clamps = stock({holder("clamp", HoldDownKind::clamp, {10, 60}, {30, 20}),
                             holder("on the part", HoldDownKind::clamp, {70, 75}, {15, 15})});
  Moves pocket(1);
  pocket.slot({{100, 50}, {120, 50}}, 4);
  Moves again(1);
  again.slot({{100, 70}, {120, 70}}, 4);
  const auto r = check(clamps, {tabbed().program(), pocket.program(), again.program()}, {{0}, {0, 1}, {0}});
  EXPECT_TRUE(r.programs[1].pieces.empty());
  EXPECT_TRUE(r.programs[1].cuts_in_tabbed.empty());
  EXPECT_TRUE(r.programs[2].pieces.empty()) << "it is told on its tabs alone already";
  ASSERT_EQ(r.programs[2].cuts_in_tabbed.size(), 1U);
  EXPECT_EQ(r.programs[2].cuts_in_tabbed[0].tabbed_since_run, 0);
}

// Two alike side by side: of the first one tab goes, then the other; the second keeps its own.
TEST(TabbedParts, a_part_that_loses_its_tabs_one_by_one_is_the_same_part_all_along) {
  Job job = stockOf({400, 120, thickness}, {flatTool(1, 6)});
  job.hold_downs = {holder("clamp", HoldDownKind::clamp, {10, 60}, {30, 20})};
  for (int k = 0; k < 3; ++k) addProgram(job, 0, 1, {0});
  Moves both = tabbed(), lower(1), upper(1);
  for (const double y : {low.y, high.y}) {
    for (const auto& [from, to] : {std::pair{257.0, 293.0}, std::pair{307.0, 343.0}})
      both.slot({{from, y}, {to, y}}, -through);
  }
  for (const double x : {257.0, 343.0}) both.slot({{x, low.y}, {x, high.y}}, -through);
  for (const double y : {low.y, high.y}) both.slot({{290, y}, {310, y}}, thickness - 3);
  lower.slot({{90, low.y}, {110, low.y}}, -through);
  upper.slot({{90, high.y}, {110, high.y}}, -through);
  const std::vector<Program> programs{both.program(), lower.program(), upper.program()};
  const auto r = run(job, programs);
  ASSERT_EQ(r.programs[0].pieces.size(), 2U);
  const std::size_t first = r.programs[0].pieces[0].at.x < 200 ? 0 : 1;
  ASSERT_EQ(r.programs[1].pieces.size(), 1U);
  EXPECT_EQ(r.programs[1].pieces[0].tabs.size(), 1U);
  EXPECT_EQ(r.programs[1].pieces[0].told_before, (PieceRef{0, first}));
  ASSERT_EQ(r.programs[2].pieces.size(), 1U);
  EXPECT_TRUE(r.programs[2].pieces[0].free);
  EXPECT_EQ(r.programs[2].pieces[0].told_before, (PieceRef{1, 0}));
}

TEST(CutInTabbed, a_hole_after_the_outline_is_seen_and_one_before_it_is_not) {
  Moves after = tabbed();
  const std::uint32_t first = after.count() + 1;
  after.slot({{100, 60}}, 6);
  const auto late = check(stock(), {after.program()}, {{0}});
  ASSERT_EQ(late.programs[0].cuts_in_tabbed.size(), 1U);
  EXPECT_EQ(late.programs[0].cuts_in_tabbed[0].first, first);
  EXPECT_EQ(late.programs[0].cuts_in_tabbed[0].moves, 1U);
  const auto early = check(stock(), {Moves(1).slot({{100, 60}}, 6).program(), tabbed().program()}, {{0}});
  EXPECT_TRUE(early.programs[0].cuts_in_tabbed.empty());
  EXPECT_TRUE(early.programs[1].cuts_in_tabbed.empty());
}

TEST(CutInTabbed, so_is_one_in_a_later_program_and_after_turning_over_and_one_beside_the_part_is_not) {
  Job job = stock();
  provecut::Setup back = job.setups[0];
  back.flip = Flip::left_right;
  job.setups.push_back(back);
  addProgram(job, 0, 1, {0});
  addProgram(job, 0, 1, {0});
  addProgram(job, 1, 1, {0});
  const std::vector<Program> programs{tabbed().program(), Moves(1).slot({{170, 60}}, 5).program(),
                                      Moves(1).slot({{80, 70}}, 5).program()};
  const auto r = run(job, programs);
  EXPECT_TRUE(r.programs[1].cuts_in_tabbed.empty());
  ASSERT_EQ(r.programs[2].cuts_in_tabbed.size(), 1U);
  EXPECT_EQ(r.programs[2].cuts_in_tabbed[0].tabbed_since_run, 0);
}

// The finishing pass 0.5 mm outside leaves the same tabs: the part has been on them since the first outline closed.
TEST(TabbedParts, a_part_is_on_its_tabs_from_the_move_that_closes_its_outline_not_from_a_later_pass) {
  Moves m = tabbed(9);
  const std::uint32_t closed = m.count() - 2;
  m.slot({{100, 60}}, 6);
  const std::uint32_t hole = closed + 3;
  const double out = 0.5, half = 7, tab_z = through + 3.2;
  m.rapid({low.x - out, low.y - out, 5}).feed({low.x - out, low.y - out, through});
  m.feed({100 - half, low.y - out, through}).feed({100 - half, low.y - out, tab_z});
  m.feed({100 + half, low.y - out, tab_z}).feed({100 + half, low.y - out, through});
  m.feed({high.x + out, low.y - out, through}).feed({high.x + out, high.y + out, through});
  m.feed({100 + half, high.y + out, through}).feed({100 + half, high.y + out, tab_z});
  m.feed({100 - half, high.y + out, tab_z}).feed({100 - half, high.y + out, through});
  m.feed({low.x - out, high.y + out, through}).feed({low.x - out, low.y - out, through}).rapid({0, 0, 5});
  const auto r = check(stock(), {m.program()}, {{0}});
  ASSERT_EQ(r.programs[0].pieces.size(), 1U);
  EXPECT_EQ(r.programs[0].pieces[0].move, closed);
  EXPECT_EQ(r.programs[0].pieces[0].tabs.size(), 2U);
  ASSERT_EQ(r.programs[0].cuts_in_tabbed.size(), 1U);
  EXPECT_EQ(r.programs[0].cuts_in_tabbed[0].first, hole);
}

TEST(TabbedParts, a_groove_elsewhere_does_not_move_the_line_that_closes_a_skin) {
  Moves m(1);
  m.rectangle(low, high, -thickness + 0.6);
  const std::uint32_t last = m.count() - 1;
  m.slot({{10, 10}, {10, 110}}, 6);
  const auto r = check(stock(), {m.program()}, {{0}});
  ASSERT_EQ(r.programs[0].pieces.size(), 1U);
  EXPECT_TRUE(r.programs[0].pieces[0].tabs.at(0).onion_skin);
  EXPECT_LE(r.programs[0].pieces[0].move, last);
}

TEST(TabbedParts, the_moves_that_closed_the_kerf_and_a_later_pass_beside_it_are_known) {
  // Five moves at full depth open the kerf; then one more pass a little outside, on the left.
  Moves m = tabbed();
  m.rapid({low.x - 1, low.y + 10, 5})
      .feed({low.x - 1, low.y + 10, -5})
      .feed({low.x - 1, high.y - 10, -5})
      .rapid({0, 0, 5});
  const auto r = check(stock(), {m.program()}, {{0}});
  const auto& beside = r.programs[0].pieces.at(0).beside;
  const auto has = [&](std::uint32_t move) {
    return std::any_of(beside.begin(), beside.end(), [&](const MoveRef& b) { return b.move == move; });
  };
  for (const std::uint32_t move : {2U, 6U, 7U, 8U, 12U, 13U}) EXPECT_TRUE(has(move)) << move;
  EXPECT_FALSE(has(17));  // its rim is 1 mm from the part
}

// A hole of 25.4 mm with a 6.35 mm bit: a path of 59.85 mm, four tabs of 7.94 mm lifted for 14.29 mm each swallow all
// but 2.7 mm of it (geometry).
TEST(StillAttached, tabs_that_swallow_a_small_loop_leave_its_slug_attached) {
  const auto loop = [](double lifted_mm) {
    const double r = 9.525, circumference = 2 * 3.14159265358979 * r, depth = through, tab_z = through + 3.2;
    Moves m(1);
    const auto at = [&](double along) {
      const double a = along / r;
      return WorkPoint2{100 + r * std::cos(a), 60 + r * std::sin(a)};
    };
    m.rapid({at(0).x, at(0).y, 5}).feed({at(0).x, at(0).y, tab_z});
    for (int k = 0; k < 4; ++k) {
      const double begin = circumference / 4 * k, up_to = begin + lifted_mm, end = begin + circumference / 4;
      m.arc(MotionKind::arc_ccw, {at(up_to).x, at(up_to).y, tab_z}, {100, 60});
      m.feed({at(up_to).x, at(up_to).y, depth});
      m.arc(MotionKind::arc_ccw, {at(end).x, at(end).y, depth}, {100, 60});
      m.feed({at(end).x, at(end).y, tab_z});
    }
    m.rapid({at(0).x, at(0).y, 5});
    return m;
  };
  Job job = stockOf({200, 120, thickness}, {flatTool(1, 6.35)});
  addProgram(job, 0, 1);
  const auto swallowed = run(job, std::vector<Program>{loop(14.2875).program()});
  ASSERT_EQ(swallowed.programs[0].still_attached.size(), 1U);
  const StillAttached& a = swallowed.programs[0].still_attached[0];
  EXPECT_NEAR(a.web_thickness_mm, 3, 0.2);
  EXPECT_LT(a.open_mm, a.outline_mm / 4 + 1e-9);
  EXPECT_TRUE(swallowed.programs[0].pieces.empty());
  // With tabs of 2 mm they hold it.
  const auto tabbed = run(job, std::vector<Program>{loop(8.35).program()});
  EXPECT_TRUE(tabbed.programs[0].still_attached.empty());
  ASSERT_EQ(tabbed.programs[0].pieces.size(), 1U);
  EXPECT_EQ(tabbed.programs[0].pieces[0].tabs.size(), 4U);
}

TEST(Holding, each_piece_says_what_holds_it_program_by_program) {
  Job job = stock({holder("clamp", HoldDownKind::clamp, {10, 60}, {30, 20}),
                   holder("tape", HoldDownKind::tape, {100, 60}, {20, 10}),
                   holder("pin", HoldDownKind::pin, {190, 60}, {6, 6})});
  const auto r =
      check(job, {Moves(1).slot({{30, 10}, {60, 10}}, 5).program(), Moves(1).rectangle(low, high, through).program()},
            {{0, 1, 2}});
  ASSERT_EQ(r.programs[0].holding.size(), 1U);
  EXPECT_FALSE(r.programs[0].holding[0].part);
  EXPECT_EQ(r.programs[0].holding[0].by, (std::vector<int>{0, 1}));  // a pin holds nothing down
  EXPECT_NEAR(r.programs[0].holding[0].tape_mm2, 200, 1);
  ASSERT_EQ(r.programs[1].holding.size(), 2U);
  EXPECT_EQ(r.programs[1].holding[0].by, (std::vector<int>{0}));
  EXPECT_FALSE(r.programs[1].holding[0].part);
  EXPECT_TRUE(r.programs[1].holding[1].part);
  EXPECT_EQ(r.programs[1].holding[1].by, (std::vector<int>{1}));
  EXPECT_NEAR(r.programs[1].holding[1].plan_area_mm2, 4000, 40);
}

TEST(Holding, a_part_on_tabs_is_listed_apart_from_the_stock) {
  const auto r = check(stock(), {tabbed().program()}, {{0}});
  ASSERT_EQ(r.programs[0].holding.size(), 2U);
  EXPECT_EQ(r.programs[0].holding[0].tabs, 0U);
  EXPECT_EQ(r.programs[0].holding[1].tabs, 2U);
  EXPECT_TRUE(r.programs[0].holding[1].by.empty());
  EXPECT_NEAR(r.programs[0].holding[1].tab_area_mm2, 48, 4);
}

TEST(Holding, a_piece_whose_clamp_is_listed_no_longer_comes_free_with_its_name) {
  Job job = stock({holder("clamp", HoldDownKind::clamp, {10, 60}, {30, 20}),
                   holder("middle", HoldDownKind::clamp, {100, 60}, {20, 20})});
  const auto r =
      check(job, {Moves(1).rectangle(low, high, through).program(), Moves(1).slot({{20, 10}, {40, 10}}, 3).program()},
            {{0, 1}, {0}});
  ASSERT_EQ(r.programs[0].pieces.size(), 1U);
  EXPECT_FALSE(r.programs[0].pieces[0].free);
  ASSERT_EQ(r.programs[1].pieces.size(), 1U);
  EXPECT_TRUE(r.programs[1].pieces[0].free);
  EXPECT_EQ(r.programs[1].pieces[0].held_before, (std::vector<int>{1}));
}

// A part that reaches to the stock's edge, on one tab of 8 x 3 mm; its last side is trimmed by the width of one dexel.
// In the frame of the part the kerf runs along u = 60 and v = 40 and 120, the trimmed edge at u = 160.
struct AtTheEdge {
  Moves moves{1};
  std::uint32_t trim = 0;
};
AtTheEdge atTheEdge(bool swap, bool mirror) {
  AtTheEdge r;
  const auto at = [&](double u, double v, double z) {
    if (mirror) u = 160 - u;
    return swap ? WorkPoint{v, u, z} : WorkPoint{u, v, z};
  };
  r.moves.rapid(at(166, 40, 5)).feed(at(166, 40, through)).feed(at(60, 40, through)).feed(at(60, 73, through));
  r.moves.feed(at(60, 73, through + 3.2)).feed(at(60, 87, through + 3.2)).feed(at(60, 87, through));
  r.moves.feed(at(60, 120, through)).feed(at(166, 120, through)).rapid(at(166, 120, 5));
  r.moves.rapid(at(162.8, 130, 5)).feed(at(162.8, 130, through));
  r.trim = r.moves.count();
  r.moves.feed(at(162.8, 30, through)).rapid(at(162.8, 30, 5));
  return r;
}

TEST(Tabbed, a_pass_along_the_outermost_dexels_of_the_stock_cuts_beside_the_part) {
  for (const bool swap : {false, true}) {
    for (const bool mirror : {false, true}) {
      SCOPED_TRACE(std::string(swap ? "along X" : "along Y") + (mirror ? ", first dexels" : ", last dexels"));
      Job job = stockOf({160, 160, thickness}, {flatTool(1, 6)});
      job.hold_downs = {
          holder("clamp", HoldDownKind::clamp, mirror ? SetupPoint2{150, 150} : SetupPoint2{10, 10}, {16, 16})};
      const AtTheEdge made = atTheEdge(swap, mirror);
      const auto r = check(job, {made.moves.program()}, {{0}});
      ASSERT_EQ(r.programs[0].pieces.size(), 1U);
      const Piece& part = r.programs[0].pieces[0];
      EXPECT_EQ(part.tabs.size(), 1U);
      EXPECT_NEAR(part.plan_area_mm2, (160 - 0.25 - 63) * (80 - 6), 30);
      EXPECT_LT(part.move, made.trim);
      EXPECT_TRUE(
          std::any_of(part.beside.begin(), part.beside.end(), [&](const MoveRef& b) { return b.move == made.trim; }));
    }
  }
}

// Full-height wood left between the ends of a kerf holds a part like a tab where it is up to about 5 mm wide, whichever
// way it runs; wider, and the part stands on solid wood.
TEST(Tabbed, a_neck_of_five_millimetres_is_a_tab_along_x_and_along_y) {
  const auto tabsOf = [](double neck, bool swap) {
    const double half = neck / 2 + 3;
    const auto at = [&](double u, double v, double z) { return swap ? WorkPoint{v, u, z} : WorkPoint{u, v, z}; };
    Moves m(1);
    m.rapid(at(60, 80 + half, 5)).feed(at(60, 80 + half, through)).feed(at(60, 110, through));
    m.feed(at(110, 110, through)).feed(at(110, 50, through)).feed(at(60, 50, through));
    m.feed(at(60, 80 - half, through)).rapid(at(60, 80 - half, 5));
    Job job = stockOf({160, 160, thickness}, {flatTool(1, 6)});
    job.hold_downs = {holder("clamp", HoldDownKind::clamp, {10, 10}, {16, 16})};
    const auto r = check(job, {m.program()}, {{0}});
    return r.programs[0].pieces.empty() ? std::size_t{0} : r.programs[0].pieces[0].tabs.size();
  };
  for (const bool swap : {false, true}) {
    EXPECT_EQ(tabsOf(5, swap), 1U) << swap;
    EXPECT_EQ(tabsOf(6.5, swap), 0U) << swap;
  }
}

}  // namespace tabbed_parts_test
}  // namespace provecut::testing
