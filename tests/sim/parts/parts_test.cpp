// Parts that come free, parts that hang on tabs: the truth is known from how each scene is built.
#include <gtest/gtest.h>

#include <algorithm>

#include "tests/sim/scene.h"

namespace provecut::testing {
namespace parts_test {

constexpr double thickness = 12;
constexpr double through = -thickness - 0.2;

HoldDown screw(SetupPoint2 at) {
  HoldDown h;
  h.name = "screw";
  h.kind = HoldDownKind::screw;
  h.at_mm = at;
  h.diameter_mm = 8;
  h.top_mm = 3;
  return h;
}

HoldDown box(HoldDownKind kind, SetupPoint2 at, Vec2 size) {
  HoldDown h;
  h.name = "box";
  h.kind = kind;
  h.at_mm = at;
  h.size_mm = size;
  h.top_mm = 10;
  return h;
}

// Stock 200 x 120 with an outline 80 x 50 cut in its middle by a 6 mm bit, tool centre on the given rectangle.
constexpr WorkPoint2 low{57, 32}, high{143, 88};

Job stock(std::vector<HoldDown> hold_downs) {
  Job job = stockOf({200, 120, thickness}, {flatTool(1, 6)});
  job.hold_downs = std::move(hold_downs);
  return job;
}

Run check(Job job, const std::vector<Program>& programs, std::vector<std::vector<int>> standing) {
  for (std::size_t i = 0; i < programs.size(); ++i) addProgram(job, 0, 1, standing[std::min(i, standing.size() - 1)]);
  return run(job, programs);
}

TEST(PartFree, an_outline_cut_through_frees_the_part_at_its_last_side) {
  const Moves m = Moves(1).rectangle(low, high, through);
  const auto r = check(stock({screw({10, 10})}), {m.program()}, {{0}});
  ASSERT_EQ(r.programs[0].pieces.size(), 1U);
  const Piece& p = r.programs[0].pieces[0];
  EXPECT_TRUE(p.free);
  // Moves: 0 above, 1 plunge, 2..5 the four sides: the last closes the kerf.
  EXPECT_EQ(p.move, 5U);
  EXPECT_NEAR(p.volume_mm3, 80 * 50 * thickness, 0.005 * 80 * 50 * thickness);
  EXPECT_NEAR(p.plan_area_mm2, 80 * 50, 0.01 * 80 * 50);
}

TEST(PartFree, the_very_segment_that_closes_a_finely_divided_outline_is_named) {
  Moves m(1);
  m.rapid({low.x, low.y, 5})
      .feed({low.x, low.y, through})
      .feed({high.x, low.y, through})
      .feed({high.x, high.y, through});
  m.feed({low.x, high.y, through});
  // Back along the left side in steps of 0.5 mm. The slot closes when the bit's edge reaches the first plunge's:
  // the bit of radius 3 leaves no wall between the two once its centre is within 6 mm of the start; the wall at the
  // kerf's edges goes only as the centres come together (the cusps between two circles of radius 3 on a line 6 mm
  // wide).
  const std::uint32_t first = m.count();
  for (double y = high.y - 0.5; y >= low.y - 1e-9; y -= 0.5) m.feed({low.x, y, through});
  m.rapid({low.x, low.y, 5});
  const auto r = check(stock({screw({10, 10})}), {m.program()}, {{0}});
  ASSERT_EQ(r.programs[0].pieces.size(), 1U);
  // A kerf 6 mm wide, whose wall is its whole width while the two circles do not overlap: free when they touch.
  // Centre distance 6 mm at y = low.y + 6: step number (high.y - low.y - 6) / 0.5, counted from 1.
  const std::uint32_t touching = first + static_cast<std::uint32_t>((high.y - low.y - 6) / 0.5) - 1;
  EXPECT_GE(r.programs[0].pieces[0].move, touching);
  EXPECT_LE(r.programs[0].pieces[0].move, touching + 1);
}

TEST(PartFree, a_hair_of_wood_left_below_holds_the_part) {
  const Moves m = Moves(1).rectangle(low, high, -thickness + 0.05);
  const auto r = check(stock({screw({10, 10})}), {m.program()}, {{0}});
  for (const Piece& p : r.programs[0].pieces) EXPECT_FALSE(p.free);
  // Its skin holds it.
  ASSERT_EQ(r.programs[0].pieces.size(), 1U);
  ASSERT_EQ(r.programs[0].pieces[0].tabs.size(), 1U);
  EXPECT_NEAR(r.programs[0].pieces[0].tabs[0].thickness_mm, 0.05, 1e-3);
}

TEST(PartFree, a_screw_through_it_a_clamp_on_it_or_tape_under_it_holds_a_part) {
  const Moves m = Moves(1).rectangle(low, high, through);
  const std::vector<HoldDown> holders = {screw({100, 60}), box(HoldDownKind::clamp, {100, 60}, {30, 20}),
                                         box(HoldDownKind::tape, {100, 60}, {60, 25}),
                                         box(HoldDownKind::other, {100, 60}, {10, 10})};
  for (const HoldDown& h : holders) {
    const auto r = check(stock({screw({10, 10}), h}), {m.program()}, {{0, 1}});
    ASSERT_EQ(r.programs[0].pieces.size(), 1U);
    EXPECT_FALSE(r.programs[0].pieces[0].free);
    const Piece& p = r.programs[0].pieces[0];
    EXPECT_EQ(p.held_by_hold_downs, std::vector<int>{1});
    EXPECT_EQ(p.held_by_tape, h.kind == HoldDownKind::tape);
  }
}

TEST(PartFree, both_lips_of_a_slot_right_through_the_stock_hang_on_its_walls) {
  for (const bool along_x : {true, false}) {
    const Job job = stockOf({60, 60, 19}, {keyholeTool(1, 16, 3, 6, 20)});
    Moves m(1);
    const WorkPoint from = along_x ? WorkPoint{-12, 30, -9} : WorkPoint{30, -12, -9};
    const WorkPoint to = along_x ? WorkPoint{72, 30, -9} : WorkPoint{30, 72, -9};
    m.rapid({from.x, from.y, 5}).feed(from).feed(to).rapid({to.x, to.y, 5});
    const auto r = runOf(job, {m.program()});
    EXPECT_GT(r.stock.removed_mm3, 60 * 16 * 3);
    EXPECT_TRUE(r.programs.at(0).pieces.empty()) << (along_x ? "along X" : "along Y");
  }
}

// A core of 3 x 7 mm on tape that covers the whole underside.
std::size_t looseCores(double bit_mm) {
  Job job = stockOf({40, 40, 1.6}, {flatTool(1, bit_mm)}, 0.1);
  job.hold_downs = {box(HoldDownKind::tape, {20, 20}, {40, 40})};
  const double half = bit_mm / 2;
  const auto r =
      check(job, {Moves(1).rectangle({18 - half, 16 - half}, {21 + half, 23 + half}, -1.8).program()}, {{0}});
  return static_cast<std::size_t>(
      std::count_if(r.programs[0].pieces.begin(), r.programs[0].pieces.end(), [](const Piece& p) { return p.free; }));
}

TEST(PartFree, a_small_core_on_tape_is_held_against_a_fine_bit_and_not_against_a_wide_one) {
  EXPECT_EQ(looseCores(0.8), 0U);
  EXPECT_EQ(looseCores(3), 1U);
}

TEST(PartFree, a_pin_places_a_part_and_does_not_hold_it) {
  HoldDown pin = screw({100, 60});
  pin.kind = HoldDownKind::pin;
  const auto r = check(stock({screw({10, 10}), pin}), {Moves(1).rectangle(low, high, through).program()}, {{0, 1}});
  ASSERT_EQ(r.programs[0].pieces.size(), 1U);
  EXPECT_TRUE(r.programs[0].pieces[0].free);
}

TEST(PartFree, the_frame_is_the_free_piece_where_only_the_part_is_held) {
  const auto r = check(stock({screw({100, 60})}), {Moves(1).rectangle(low, high, through).program()}, {{0}});
  const auto& pieces = r.programs[0].pieces;
  ASSERT_EQ(pieces.size(), 2U);
  const auto& frame = pieces[0].free ? pieces[0] : pieces[1];
  EXPECT_NE(pieces[0].free, pieces[1].free) << "the screw holds the part";
  EXPECT_NEAR(frame.volume_mm3, (200 * 120 - 92 * 62) * thickness, 0.01 * 200 * 120 * thickness);
}

TEST(PartFree, a_part_comes_free_when_its_screw_is_listed_no_longer) {
  const Moves cut = Moves(1).rectangle(low, high, through);
  const Moves later = Moves(1).slot({{20, 20}, {20, 40}}, 2);
  const auto r = check(stock({screw({10, 10}), screw({100, 60})}), {cut.program(), later.program()}, {{0, 1}, {0}});
  ASSERT_EQ(r.programs[0].pieces.size(), 1U);
  EXPECT_FALSE(r.programs[0].pieces[0].free);
  ASSERT_EQ(r.programs[1].pieces.size(), 1U);
  EXPECT_TRUE(r.programs[1].pieces[0].free);
  EXPECT_EQ(r.programs[1].pieces[0].move, 0U);
}

TEST(PartFree, two_parts_are_each_freed_by_their_own_outline) {
  Moves m(1);
  m.rectangle({20, 20}, {80, 100}, through);
  const std::uint32_t first = m.count() - 2;  // the last side, before the lift
  m.rectangle({110, 20}, {180, 100}, through);
  const auto r = check(stock({screw({10, 10})}), {m.program()}, {{0}});
  ASSERT_EQ(r.programs[0].pieces.size(), 2U);
  std::vector<std::uint32_t> moves{r.programs[0].pieces[0].move, r.programs[0].pieces[1].move};
  std::sort(moves.begin(), moves.end());
  EXPECT_EQ(moves.at(0), first);
  EXPECT_EQ(moves[1], first + 7);
}

// Cut from both faces: two setups, the second flipped left to right.
Job twoSided() {
  Job job = stock({screw({10, 10})});
  Setup back = job.setups[0];
  back.name = "back";
  back.flip = Flip::left_right;
  job.setups.push_back(back);
  return job;
}

TEST(PartFree, halves_of_a_kerf_from_both_faces_free_the_part_where_they_meet) {
  Job job = twoSided();
  addProgram(job, 0, 1, {0});
  addProgram(job, 1, 1, {0});
  const double w = 200;
  const std::vector<Program> programs = {Moves(1).rectangle(low, high, -7).program(),
                                         Moves(1).rectangle({w - high.x, low.y}, {w - low.x, high.y}, -5.1).program()};
  const auto r = run(job, programs);
  EXPECT_TRUE(r.programs[0].pieces.empty());
  ASSERT_EQ(r.programs[1].pieces.size(), 1U);
  EXPECT_TRUE(r.programs[1].pieces[0].free);
  EXPECT_EQ(r.programs[1].pieces[0].move, 5U);
}

TEST(PartFree, kerfs_from_both_faces_that_do_not_meet_leave_a_skin) {
  Job job = twoSided();
  addProgram(job, 0, 1, {0});
  addProgram(job, 1, 1, {0});
  const double w = 200;
  const auto r =
      run(job, std::vector<Program>{Moves(1).rectangle(low, high, -7).program(),
                                    Moves(1).rectangle({w - high.x, low.y}, {w - low.x, high.y}, -4.9).program()});
  ASSERT_EQ(r.programs[1].pieces.size(), 1U);
  EXPECT_FALSE(r.programs[1].pieces[0].free);
  ASSERT_FALSE(r.programs[1].pieces[0].tabs.empty());
  EXPECT_NEAR(r.programs[1].pieces[0].tabs[0].thickness_mm, 0.1, 1e-3);
}

// The outline with a tab in the middle of each long side: the bit is lifted over `lift` mm of its way.
Moves tabbed(double lift, double tab_thickness) {
  const double cx = (low.x + high.x) / 2, top = -thickness + tab_thickness;
  Moves m(1);
  m.rapid({low.x, low.y, 5}).feed({low.x, low.y, through});
  m.feed({cx - lift / 2, low.y, through})
      .feed({cx - lift / 2, low.y, top})
      .feed({cx + lift / 2, low.y, top})
      .feed({cx + lift / 2, low.y, through});
  m.feed({high.x, low.y, through}).feed({high.x, high.y, through});
  m.feed({cx + lift / 2, high.y, through})
      .feed({cx + lift / 2, high.y, top})
      .feed({cx - lift / 2, high.y, top})
      .feed({cx - lift / 2, high.y, through});
  m.feed({low.x, high.y, through}).feed({low.x, low.y, through}).rapid({low.x, low.y, 5});
  return m;
}

TEST(Tabs, a_tab_is_shorter_than_its_lift_by_the_bit) {
  // Length left = lift - diameter, on the bit's centre line (geometry).
  const auto r = check(stock({screw({10, 10})}), {tabbed(14, 3).program()}, {{0}});
  ASSERT_EQ(r.programs[0].pieces.size(), 1U);
  const Piece& p = r.programs[0].pieces[0];
  EXPECT_FALSE(p.free);
  ASSERT_EQ(p.tabs.size(), 2U);
  for (const Tab& t : p.tabs) {
    EXPECT_NEAR(t.length_mm, 8, 0.3);
    EXPECT_NEAR(t.thickness_mm, 3, 1e-3);
    EXPECT_NEAR(t.area_mm2, 24, 1);
    EXPECT_NEAR(t.at.x, 100, 0.5);
  }
  EXPECT_NEAR(p.volume_mm3, 80 * 50 * thickness, 0.01 * 80 * 50 * thickness);
}

TEST(Tabs, a_lift_no_longer_than_the_bit_leaves_no_tab) {
  const auto r = check(stock({screw({10, 10})}), {tabbed(5, 3).program()}, {{0}});
  ASSERT_EQ(r.programs[0].pieces.size(), 1U);
  EXPECT_TRUE(r.programs[0].pieces[0].free);
}

TEST(Tabs, a_kerf_along_the_grain_makes_its_tabs_weak) {
  Job job = stock({screw({10, 10})});
  for (const Grain grain : {Grain::x, Grain::y}) {
    job.stock.grain = grain;
    const auto r = check(job, {tabbed(14, 3).program()}, {{0}});
    ASSERT_EQ(r.programs[0].pieces.size(), 1U);
    ASSERT_EQ(r.programs[0].pieces[0].tabs.size(), 2U);
    // The tabs bridge kerfs that run along x.
    for (const Tab& t : r.programs[0].pieces[0].tabs) EXPECT_EQ(t.along_grain, grain == Grain::x);
  }
}

TEST(Tabs, cutting_the_tabs_later_frees_the_part) {
  const double cx = (low.x + high.x) / 2;
  Moves later(1);
  later.slot({{cx - 10, low.y}, {cx + 10, low.y}}, thickness + 0.2);
  const std::uint32_t second = later.count();
  later.slot({{cx - 10, high.y}, {cx + 10, high.y}}, thickness + 0.2);
  const auto r = check(stock({screw({10, 10})}), {tabbed(14, 3).program(), later.program()}, {{0}});
  ASSERT_FALSE(r.programs[1].pieces.empty());
  const Piece& freed = r.programs[1].pieces.back();
  EXPECT_TRUE(freed.free);
  EXPECT_EQ(freed.move, second + 2);
}

// The outline at `depth`, all round; and its finish to full depth that rises over the tabs of `tabbed` at y = low and
// high.
Program roughed(double depth) {
  Moves m(1);
  m.rapid({low.x, low.y, 5}).feed({low.x, low.y, -depth}).feed({high.x, low.y, -depth}).feed({high.x, high.y, -depth});
  m.feed({low.x, high.y, -depth}).feed({low.x, low.y, -depth}).rapid({low.x, low.y, 5});
  return m.program();
}

TEST(Tabs, that_an_earlier_roughing_left_are_seen_when_the_finish_lifts_over_them) {
  // Roughed to 9 of 12 mm; the finish rises clear of the stock for 11 mm: with a 6 mm bit 5 mm of tab, 3 mm high.
  const auto r = check(stock({screw({10, 10})}), {roughed(9), tabbed(11, thickness + 2).program()}, {{0}});
  EXPECT_TRUE(r.programs[0].pieces.empty());
  ASSERT_EQ(r.programs[1].pieces.size(), 1U);
  ASSERT_EQ(r.programs[1].pieces[0].tabs.size(), 2U);
  for (const Tab& t : r.programs[1].pieces[0].tabs) EXPECT_NEAR(t.area_mm2, 15, 1.5);
}

TEST(Tabs, left_by_a_program_are_told_once) {
  Moves elsewhere(1);
  elsewhere.slot({{20, 20}, {20, 100}}, thickness + 0.2);
  const auto r = check(stock({screw({180, 10})}), {tabbed(14, 3).program(), elsewhere.program()}, {{0}});
  EXPECT_EQ(r.programs[0].pieces.size(), 1U);
  EXPECT_TRUE(r.programs[1].pieces.empty());
}

TEST(Tabs, a_tab_cut_away_leaves_the_part_on_the_other) {
  const double cx = (low.x + high.x) / 2;
  Moves later(1);
  later.slot({{cx - 10, low.y}, {cx + 10, low.y}}, thickness + 0.2);
  const auto r = check(stock({screw({10, 10})}), {tabbed(14, 3).program(), later.program()}, {{0}});
  ASSERT_EQ(r.programs[1].pieces.size(), 1U);
  ASSERT_EQ(r.programs[1].pieces[0].tabs.size(), 1U);
  EXPECT_NEAR(r.programs[1].pieces[0].tabs[0].at.y, high.y, 1);
}

TEST(Tabs, cut_away_while_a_screw_holds_the_part_are_no_loss) {
  const double cx = (low.x + high.x) / 2;
  Moves later(1);
  later.slot({{cx - 10, low.y}, {cx + 10, low.y}}, thickness + 0.2)
      .slot({{cx - 10, high.y}, {cx + 10, high.y}}, thickness + 0.2);
  const auto r =
      check(stock({screw({10, 10}), screw({100, 60})}), {tabbed(14, 3).program(), later.program()}, {{0}, {0, 1}});
  for (const Piece& p : r.programs[1].pieces) EXPECT_FALSE(p.free);
}

TEST(Tabs, as_high_as_the_stock_are_necks) {
  // The outline but for 7 mm of its last side: with a 6 mm bit a neck 1 mm wide and 12 mm high.
  Moves m(1);
  m.rapid({low.x, low.y, 5})
      .feed({low.x, low.y, through})
      .feed({high.x, low.y, through})
      .feed({high.x, high.y, through});
  m.feed({low.x, high.y, through}).feed({low.x, low.y + 7, through}).rapid({low.x, low.y + 7, 5});
  const auto r = check(stock({screw({10, 10})}), {m.program()}, {{0}});
  ASSERT_EQ(r.programs[0].pieces.size(), 1U);
  ASSERT_EQ(r.programs[0].pieces[0].tabs.size(), 1U);
  EXPECT_NEAR(r.programs[0].pieces[0].tabs[0].area_mm2, 12, 3);
}

TEST(Tabs, thicker_than_half_the_stock_are_tabs_all_the_same) {
  // 8 mm of 12 left under a lift of 8 mm: 2 x 8 mm² each.
  const auto r = check(stock({screw({10, 10})}), {tabbed(8, 8).program()}, {{0}});
  ASSERT_EQ(r.programs[0].pieces.size(), 1U);
  ASSERT_EQ(r.programs[0].pieces[0].tabs.size(), 2U);
  for (const Tab& t : r.programs[0].pieces[0].tabs) EXPECT_NEAR(t.area_mm2, 16, 3);
}

TEST(Tabs, that_hold_a_slug_in_a_part_do_not_hold_the_part) {
  // In the part an inner outline on two tabs, then the part's own on its two.
  Moves m(1);
  const WorkPoint2 in_low{80, 48}, in_high{120, 72};
  const double top = -thickness + 3;
  m.rapid({in_low.x, in_low.y, 5}).feed({in_low.x, in_low.y, through});
  m.feed({93, in_low.y, through}).feed({93, in_low.y, top}).feed({107, in_low.y, top}).feed({107, in_low.y, through});
  m.feed({in_high.x, in_low.y, through}).feed({in_high.x, in_high.y, through});
  m.feed({107, in_high.y, through})
      .feed({107, in_high.y, top})
      .feed({93, in_high.y, top})
      .feed({93, in_high.y, through});
  m.feed({in_low.x, in_high.y, through}).feed({in_low.x, in_low.y, through}).rapid({in_low.x, in_low.y, 5});
  const auto r = check(stock({screw({10, 10})}), {m.program(), tabbed(14, 3).program()}, {{0}});
  ASSERT_EQ(r.programs[0].pieces.size(), 1U);
  EXPECT_EQ(r.programs[0].pieces[0].tabs.size(), 2U);
  ASSERT_EQ(r.programs[1].pieces.size(), 1U);
  EXPECT_NEAR(r.programs[1].pieces[0].bounds.high.x - r.programs[1].pieces[0].bounds.low.x, 80, 1);
  EXPECT_EQ(r.programs[1].pieces[0].tabs.size(), 2U);
}

TEST(Tabs, a_narrow_bridge_that_belongs_to_a_part_is_none) {
  // A frame cut out inside: its rails of 10 mm are the part's own. And a tray whose floor comes near the kerf.
  Moves m(1);
  m.rectangle({73, 48}, {127, 72}, through);
  const auto framed = check(stock({screw({10, 10})}), {m.program(), tabbed(14, 3).program()}, {{0}});
  EXPECT_EQ(std::count_if(framed.programs[1].pieces.begin(), framed.programs[1].pieces.end(),
                          [](const Piece& p) { return !p.tabs.empty(); }),
            1);
  Moves tray(1);
  for (double y = 41; y < 80; y += 5) tray.slot({{66, y}, {134, y}}, 8);
  const auto trayed = check(stock({screw({10, 10})}), {tray.program(), tabbed(14, 3).program()}, {{0}});
  ASSERT_EQ(trayed.programs[1].pieces.size(), 1U);
  EXPECT_EQ(trayed.programs[1].pieces[0].tabs.size(), 2U);
}

TEST(Tabs, a_pocket_floor_with_an_island_is_no_tab) {
  Moves m(1);
  // A ring pocket 12 mm wide round an island, floor 4 mm of 12, beside a hole cut through elsewhere.
  m.rectangle({60, 30}, {140, 90}, -8).rectangle({65, 35}, {135, 85}, -8);
  m.rectangle({20, 20}, {24, 24}, through);
  const auto r = check(stock({screw({10, 10})}), {m.program()}, {{0}});
  for (const Piece& p : r.programs[0].pieces) EXPECT_TRUE(p.tabs.empty());
}

TEST(Through, a_program_that_must_not_go_through_is_told_its_first_move_that_does) {
  const auto opened = [](double depth, bool may_go_through) {
    Job job = stock({});
    addProgram(job, 0, 1);
    job.setups[0].programs[0].through = may_go_through;
    Moves m(1);
    m.slot({{20, 20}, {60, 20}}, 5).slot({{20, 60}, {60, 60}}, depth);
    return run(job, std::vector<Program>{m.program()}).programs[0].opened;
  };
  EXPECT_FALSE(opened(thickness - 0.001, false));
  EXPECT_FALSE(opened(thickness + 0.2, true));
  const auto hole = opened(thickness, false);
  ASSERT_TRUE(hole);
  EXPECT_EQ(hole->move, 5U);  // the plunge of the second slot
  EXPECT_NEAR(hole->area_mm2, 40 * 6 + 9 * 3.14159265, 0.01 * 268);
}

TEST(Pieces, the_raster_does_not_move_the_freeing_line) {
  for (const double cell : {0.5, 0.25, 0.125}) {
    Job job = stock({screw({10, 10})});
    job.limits.cell_mm = cell;
    const auto r = check(job, {Moves(1).rectangle(low, high, through).program()}, {{0}});
    ASSERT_EQ(r.programs[0].pieces.size(), 1U);
    EXPECT_EQ(r.programs[0].pieces[0].move, 5U);
  }
}

}  // namespace parts_test
}  // namespace provecut::testing
