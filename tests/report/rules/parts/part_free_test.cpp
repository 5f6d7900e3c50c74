#include <gtest/gtest.h>

#include "sim/run.h"
#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

Piece piece(const Scene& s, double plan_area_mm2) {
  Piece p;
  p.move = s.lastIndex();
  p.plan_area_mm2 = plan_area_mm2;
  p.volume_mm3 = plan_area_mm2 * 18;
  p.bounds.add(WorkPoint{10, 10, -18});
  p.bounds.add(WorkPoint{106, 55, 0});
  p.at = {58, 32, -9};
  p.free = true;
  return p;
}

TEST(PartFree, the_line_that_closes_the_kerf_is_named) {
  Scene s;
  s.feed({100, 10, -18.2});
  s.feed({10, 10, -18.2});
  s.programRun().pieces.push_back(piece(s, 4320));
  const auto findings = s.findings(part_free_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::stop);
  EXPECT_EQ(findings[0].place.line, 2u);
  EXPECT_EQ(findings[0].subject, "");
  EXPECT_DOUBLE_EQ(*findings[0].amount, 4320);
  EXPECT_EQ(findings[0].unit, "mm²");
  EXPECT_EQ(findings[0].message, "this move cuts a 96 × 45 × 18 mm part loose; nothing holds it");
}

// The 6 mm bit comes up for `way_mm` and goes down again.
std::string helpAfterLift(double way_mm) {
  Scene s;
  s.feed({10, 10, -18.2});
  s.feed({50, 10, -18.2});
  s.feed({50, 10, -15});
  s.feed({50 + way_mm, 10, -15});
  s.feed({50 + way_mm, 10, -18.2});
  s.feed({100, 10, -18.2});
  s.programRun().pieces.push_back(piece(s, 4320));
  return s.findings(part_free_rule).at(0).help;
}

TEST(PartFree, lifts_no_longer_than_the_bit_is_wide_are_told_as_tabs_that_are_not_there) {
  EXPECT_TRUE(
      helpAfterLift(5.5).starts_with("The lift on lines 3 to 5 leaves no tab: it is only 5.5 mm long, but the bit is "
                                     "6 mm wide. Make it 6 mm plus the tab's length. Leave at least"))
      << helpAfterLift(5.5);
  EXPECT_TRUE(helpAfterLift(6.1).starts_with("Leave at least")) << helpAfterLift(6.1);
}

TEST(PartFree, a_short_lift_of_another_part_is_not_told_of_this_one) {
  Scene s;
  s.feed({150, 10, -18.2});
  s.feed({180, 10, -18.2});
  s.feed({180, 10, -15});
  s.feed({184, 10, -15});
  s.feed({184, 10, -18.2});
  s.feed({100, 10, -18.2});
  s.programRun().pieces.push_back(piece(s, 4320));  // to X 106
  EXPECT_TRUE(s.findings(part_free_rule).at(0).help.starts_with("Leave at least"));
}

// Up and down a slope the tip is above the underside for half of the way that the cut is.
TEST(PartFree, of_a_lift_on_slopes_only_what_is_above_the_underside_counts) {
  Scene s;
  s.feed({10, 10, -19});
  s.feed({50, 10, -19});
  s.feed({54, 10, -17});
  s.feed({58, 10, -19});
  s.programRun().pieces.push_back(piece(s, 4320));
  EXPECT_NE(s.findings(part_free_rule).at(0).help.find("it is only 4 mm long"), std::string::npos);
}

TEST(PartFree, a_part_under_the_dust_shoe_alone_is_free_and_the_shoe_is_named) {
  Scene s;
  s.feed({10, 10, -18.2});
  s.programRun().pieces.push_back(piece(s, 4320));
  EXPECT_EQ(s.findings(part_free_rule).at(0).help.find("press"), std::string::npos);
  s.job().spindle_attachments.push_back({"dust shoe", 90, -20, 10});
  EXPECT_TRUE(s.findings(part_free_rule).at(0).help.ends_with("Dust shoe may press on it, but does not hold it."));
}

TEST(PartFree, a_part_that_something_holds_is_not_free) {
  Scene s;
  s.feed({10, 10, -18.2});
  Piece p = piece(s, 4320);
  p.free = false;
  p.held_by_tape = true;
  s.programRun().pieces.push_back(p);
  EXPECT_TRUE(s.findings(part_free_rule).empty());
}

TEST(PartFree, a_piece_of_625_square_millimetres_is_a_part_and_a_smaller_one_an_offcut) {
  Scene s;
  s.feed({10, 10, -18.2});
  s.programRun().pieces.push_back(piece(s, 625));
  EXPECT_EQ(s.findings(part_free_rule).size(), 1u);
  EXPECT_TRUE(s.findings(offcut_free_rule).empty());
  s.programRun().pieces[0].plan_area_mm2 = 624.99;
  EXPECT_TRUE(s.findings(part_free_rule).empty());
  EXPECT_EQ(s.findings(offcut_free_rule).size(), 1u);
}

TEST(PartFree, each_part_of_a_program_has_its_own_line_and_name) {
  Scene s;
  s.feed({10, 10, -18.2});
  s.programRun().pieces.push_back(piece(s, 4320));
  s.feed({10, 60, -18.2});
  s.programRun().pieces.push_back(piece(s, 1000));
  const auto findings = s.findings(part_free_rule);
  ASSERT_EQ(findings.size(), 2u);
  EXPECT_EQ(findings[0].subject, "part 1");
  EXPECT_EQ(findings[0].place.line, 1u);
  EXPECT_EQ(findings[1].subject, "part 2");
  EXPECT_EQ(findings[1].place.line, 2u);
}

TEST(PartFree, parts_of_one_size_that_come_loose_in_one_way_are_one_finding_with_every_line) {
  Scene s;
  for (int k = 0; k < 4; ++k) {
    s.feed({10.0 * k, 10, -18.2});
    s.programRun().pieces.push_back(piece(s, 4320));
  }
  const auto findings = s.findings(part_free_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].moves, 4u);
  EXPECT_EQ(findings[0].place.line, 1u);
  EXPECT_EQ(findings[0].last_line, 4u);
  EXPECT_EQ(findings[0].lines.size(), 4u);
  EXPECT_EQ(findings[0].related.size(), 3u);
}

TEST(PartFree, a_part_whose_hold_down_is_listed_no_longer_is_told_by_its_name) {
  Scene s;
  const int middle = s.addHoldDown(clamp("clamp middle", {58, 32}, {20, 20}, 20));
  s.feed({10, 10, -3});
  Piece p = piece(s, 4320);
  p.move = 0;
  p.held_before = {middle};
  s.programRun().pieces.push_back(p);
  const auto findings = s.findings(part_free_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message,
            "a 96 × 45 × 18 mm part is loose when this program starts: clamp middle held it before");
  EXPECT_EQ(findings[0].help,
            "Keep clamp middle in this program's `hold_downs`, or take the part out before this program.");
  ASSERT_EQ(findings[0].related.size(), 1u);
  EXPECT_EQ(findings[0].related[0].file, "job.toml");
}

TEST(PartFree, what_the_bit_does_to_the_loose_part_next_is_said) {
  Scene s;
  s.feed({10, 10, -18.2});
  Piece p = piece(s, 4320);
  for (int k = 0; k < 4; ++k) s.feed({20.0 + k, 10, -18.2});
  p.cut_loose = {{{0, 4}, false}, {{0, 3}, true}, {{0, 2}, true}};
  s.programRun().pieces.push_back(p);
  const auto into = s.findings(part_free_rule);
  ASSERT_EQ(into.size(), 1u);
  EXPECT_EQ(into[0].place.line, 1u);
  EXPECT_EQ(into[0].message,
            "this move cuts a 96 × 45 × 18 mm part loose; nothing holds it; the bit then cuts into it on lines 3-4");
  ASSERT_EQ(into[0].related.size(), 1u);
  EXPECT_EQ(into[0].related[0].place.line, 3u);

  s.programRun().pieces[0].cut_loose = {{{0, 4}, false}};
  EXPECT_EQ(s.findings(part_free_rule).at(0).message,
            "this move cuts a 96 × 45 × 18 mm part loose; nothing holds it; the bit then cuts beside it on line 5");
}

TEST(PartFree, the_hardest_push_on_the_loose_part_is_said_where_it_is_known) {
  Scene s;
  s.feed({10, 10, -18.2});
  Piece p = piece(s, 4320);
  for (int k = 0; k < 3; ++k) s.feed({20.0 + k, 10, -18.2});
  p.cut_loose = {{{0, 2}, true}, {{0, 1}, true}};
  s.programRun().pieces.push_back(p);
  auto& loads = s.programRun().loads;
  loads.assign(4, {});
  loads[1].force_n = 12;
  loads[2].force_n = 23;
  loads[3].force_n = 99;  // elsewhere
  EXPECT_EQ(s.findings(part_free_rule).at(0).message,
            "this move cuts a 96 × 45 × 18 mm part loose; nothing holds it; the bit then cuts into it on lines 2-3 and "
            "pushes it with up to 23 N");
}

TEST(PartFree, a_push_is_said_as_finely_as_that_on_a_tab) {
  Scene s;
  s.feed({10, 10, -18.2});
  Piece p = piece(s, 4320);
  s.feed({20, 10, -18.2});
  p.cut_loose = {{{0, 1}, true}};
  s.programRun().pieces.push_back(p);
  s.programRun().loads.assign(2, {});
  s.programRun().loads[1].force_n = 18.2F;
  EXPECT_TRUE(s.findings(part_free_rule).at(0).message.ends_with("on line 2 and pushes it with up to 18 N"));
}

TEST(PartFree, a_later_program_that_cuts_into_the_loose_part_is_named) {
  Scene s;
  s.feed({10, 10, -18.2});
  Piece p = piece(s, 4320);
  s.addProgram("20-holes.nc");
  s.feed({30, 30, -5});
  p.cut_loose = {{{1, 0}, true}};
  s.programRun().pieces.push_back(p);
  EXPECT_EQ(s.findings(part_free_rule).at(0).message,
            "this move cuts a 96 × 45 × 18 mm part loose; nothing holds it; 20-holes.nc then cuts into it on line 1");
}

TEST(PartFree, the_last_cut_of_a_program_is_told_as_such) {
  Scene s;
  s.feed({10, 10, -18.2});
  s.cuts(18, 18);
  s.programRun().pieces.push_back(piece(s, 4320));
  s.rapid({10, 10, 20});
  s.cuts(0, 0, 0);
  EXPECT_EQ(s.findings(part_free_rule).at(0).message,
            "this move cuts a 96 × 45 × 18 mm part loose; nothing holds it; this is the program's last cut");
}

// A part on tabs, and the same part when the second move has cut them.
struct TabsCut : Scene {
  explicit TabsCut(std::size_t tabs, double plan_area_mm2 = 4320) {
    feed({10, 10, -18.2});
    Piece on_tabs = piece(*this, plan_area_mm2);
    on_tabs.free = false;
    on_tabs.tabs.resize(tabs);
    feed({20, 10, -18.2});
    Piece off = piece(*this, plan_area_mm2);
    off.told_before = PieceRef{0, 0};
    programRun().pieces = {on_tabs, off};
  }
  std::vector<Tab>& tabs() { return programRun().pieces[0].tabs; }
};

TEST(PartFree, the_move_that_cuts_the_last_tab_is_told_as_that_and_the_tabs_are_to_be_left) {
  TabsCut s(4);
  const auto findings = s.findings(part_free_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].place.line, 2u);
  EXPECT_EQ(findings[0].message, "this move cuts the last tab of a 96 × 45 × 18 mm part; nothing holds it now");
  EXPECT_EQ(findings[0].help,
            "Leave these tabs and saw them after the job. Or hold the part with tape, a clamp or a screw before this "
            "program.");
}

TEST(PartFree, an_only_tab_and_a_skin_are_told_as_such) {
  TabsCut s(1);
  EXPECT_EQ(s.findings(part_free_rule).at(0).message,
            "this move cuts the tab of a 96 × 45 × 18 mm part; nothing holds it now");
  s.tabs()[0].onion_skin = true;
  const auto findings = s.findings(part_free_rule);
  EXPECT_EQ(findings.at(0).message, "this move cuts the onion skin of a 96 × 45 × 18 mm part; nothing holds it now");
  EXPECT_TRUE(findings[0].help.starts_with("Leave the skin and cut it after the job. Or hold")) << findings[0].help;
}

TEST(PartFree, an_offcut_cut_off_its_tab_is_to_be_held_with_tape) {
  EXPECT_EQ(TabsCut(1, 200).findings(offcut_free_rule).at(0).help,
            "Leave this tab and saw it after the job. Or hold the offcut with tape before this program.");
}

TEST(PartFree, pieces_of_a_loose_part_are_told_with_it) {
  Scene s;
  s.feed({10, 10, -18.2});
  Piece p = piece(s, 4320);
  p.of_loose = true;
  s.programRun().pieces.push_back(p);
  EXPECT_TRUE(s.findings(part_free_rule).empty());
}

TEST(PartFree, the_move_that_mills_away_what_held_a_part_is_named) {
  Scene s;
  s.feed({10, 10, -18.2});
  Piece p = piece(s, 4320);
  s.feed({50, 30, -18.2});
  p.free = false;
  p.held_by_tape = true;
  p.loosened_by = MoveRef{0, 1};
  s.programRun().pieces.push_back(p);
  const auto findings = s.findings(part_free_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].place.line, 2u);
  EXPECT_EQ(findings[0].message, "this move mills away the tape under a 96 × 45 × 18 mm part; nothing holds it now");
}

TEST(PartFree, what_the_bit_does_to_a_part_loose_from_the_start_is_said_too) {
  Scene s;
  const int middle = s.addHoldDown(clamp("clamp middle", {58, 32}, {20, 20}, 20));
  s.feed({10, 10, -3});
  s.feed({58, 32, -3});
  Piece p = piece(s, 4320);
  p.held_before = {middle};
  p.cut_loose = {{{0, 1}, true}};
  s.programRun().pieces.push_back(p);
  EXPECT_EQ(
      s.findings(part_free_rule).at(0).message,
      "a 96 × 45 × 18 mm part is loose when this program starts: clamp middle held it before; the bit then cuts into "
      "it on line 2");
}

TEST(PartFree, a_part_whose_screw_loses_its_wood_is_told_apart_from_one_on_tape) {
  Scene s;
  const int middle = s.addHoldDown(clamp("clamp middle", {58, 32}, {20, 20}, 20));
  s.feed({10, 10, -18.2});
  s.feed({58, 32, -18.2});
  Piece p = piece(s, 4320);
  p.free = false;
  p.held_by_hold_downs = {middle};
  p.loosened_by = MoveRef{0, 1};
  s.programRun().pieces.push_back(p);
  const auto findings = s.findings(part_free_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message,
            "this move mills away the material under clamp middle on a 96 × 45 × 18 mm part; nothing holds it now");
  // Wood is called wood, and nothing else is.
  s.job().stock.material_given = true;
  s.job().stock.material = Material::acrylic;
  EXPECT_EQ(s.findings(part_free_rule)[0].help,
            "Leave the material under its hold-down, or hold the part in a second place too.");
  s.job().stock.material = Material::plywood;
  EXPECT_EQ(s.findings(part_free_rule)[0].help,
            "Leave the wood under its hold-down, or hold the part in a second place too.");
}

// Stock of 200 x 100 mm, cut through along corners.
struct CutOut : Scene {
  explicit CutOut(const std::vector<SetupPoint2>& screws) {
    for (std::size_t k = 0; k < screws.size(); ++k)
      addHoldDown(screw("screw " + std::to_string(k + 1), screws[k], 8, 4));
  }
  void cut(const std::vector<WorkPoint2>& corners) {
    rapid({corners[0].x, corners[0].y, 20});
    for (const WorkPoint2& c : corners) feed({c.x, c.y, -18.2});
    rapid({corners.back().x, corners.back().y, 20});
  }
  void outline(WorkPoint2 low, WorkPoint2 high) { cut({low, {low.x, high.y}, high, {high.x, low.y}, low}); }
  void simulate() {
    Programs programs;
    programs.add(program(0));
    run() = provecut::run(job(), programs);
  }
  std::size_t stops() { return findings(part_free_rule).size(); }
};

TEST(PartFree, the_frame_round_a_part_on_screws_is_waste_and_the_part_is_held_by_them) {
  CutOut s({{60, 50}, {140, 50}});
  s.outline({17, 17}, {183, 83});
  s.simulate();
  EXPECT_EQ(s.stops(), 0u);
  const auto findings = s.findings(offcut_free_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].place.line, 6u);
  EXPECT_EQ(findings[0].message,
            "the frame of waste round the part comes loose; nothing holds it; this is the program's last cut");
  EXPECT_EQ(findings[0].help, "Screw or tape the frame down before you start the program.");
  const std::vector<Piece>& pieces = s.programRun().pieces;
  ASSERT_EQ(pieces.size(), 2u);
  const Piece& part = pieces[pieces[0].frame ? 1 : 0];
  EXPECT_FALSE(part.free);
  EXPECT_EQ(part.held_by_hold_downs, (std::vector<int>{0, 1}));
  EXPECT_NEAR(part.plan_area_mm2, 160 * 60, 60);
  const std::vector<PieceHeld>& holding = s.programRun().holding;
  ASSERT_EQ(holding.size(), 2u);
  EXPECT_TRUE(holding[0].frame && !holding[0].part && holding[0].by.empty());
  EXPECT_TRUE(holding[1].part);
  EXPECT_EQ(holding[1].by, (std::vector<int>{0, 1}));
  EXPECT_TRUE(s.findings(stock_unheld_rule).empty());
}

TEST(PartFree, the_frame_round_two_parts_is_waste_once_the_second_is_cut_out) {
  CutOut s({{40, 40}, {40, 60}, {150, 40}, {150, 60}});
  s.outline({17, 17}, {83, 83});
  s.outline({117, 17}, {183, 83});
  s.simulate();
  EXPECT_EQ(s.stops(), 0u);
  ASSERT_EQ(s.findings(offcut_free_rule).size(), 1u);
  EXPECT_EQ(s.findings(offcut_free_rule)[0].place.line, 13u);
}

TEST(PartFree, a_part_in_a_frame_that_screws_hold_stops) {
  CutOut s({{8, 50}, {192, 50}});
  s.outline({17, 17}, {183, 83});
  s.simulate();
  EXPECT_EQ(s.stops(), 1u);
  EXPECT_TRUE(s.findings(offcut_free_rule).empty());
}

TEST(PartFree, a_loose_part_at_an_edge_of_the_stock_stops_whatever_holds_the_rest) {
  CutOut s({{150, 40}, {150, 60}});
  s.cut({{-5, 20}, {90, 20}, {90, 80}, {-5, 80}});
  s.simulate();
  EXPECT_EQ(s.stops(), 1u);
}

// The board is the part; what is held is the notch.
TEST(PartFree, a_board_about_a_notch_that_a_screw_holds_stops) {
  CutOut s({{20, 50}});
  s.cut({{-5, 30}, {50, 30}, {50, 70}, {-5, 70}});
  s.simulate();
  EXPECT_EQ(s.stops(), 1u);
}

// The screw stands in the waste of an opening.
TEST(PartFree, a_board_about_a_small_opening_whose_waste_a_screw_holds_stops) {
  CutOut s({{100, 50}});
  s.outline({80, 30}, {120, 70});
  s.simulate();
  EXPECT_EQ(s.stops(), 1u) << "34 x 34 mm of 200 x 100";
}

}  // namespace
}  // namespace provecut
