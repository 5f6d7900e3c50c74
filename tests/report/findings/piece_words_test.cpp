// What the parts table says of a piece, from its parting to its end.
#include "report/findings/piece_words.h"

#include <gmock/gmock.h>

#include <string>
#include <vector>

#include "tests/report/rules/pine_tabs.h"
#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

using ::testing::ElementsAre;

// A piece of 37 x 37 mm that move `move` parts.
Piece piece(std::uint32_t move, bool free = true) {
  Piece p;
  p.move = move;
  p.plan_area_mm2 = 37 * 37;
  p.bounds.add(WorkPoint{20, 20, -18});
  p.bounds.add(WorkPoint{57, 57, 0});
  p.free = free;
  return p;
}

std::vector<std::string> lines(Scene& s) {
  const Facts& facts = s.facts();
  const auto pieces = pieceHistories(facts);
  std::vector<std::string> out;
  for (std::size_t k = 0; k < pieces.size(); ++k) out.push_back(pieceLine(facts, pieces, k));
  return out;
}

// Moves on lines 1 to `count`.
void addMoves(Scene& s, int count) {
  for (int k = 0; k < count; ++k) s.feed({10.0 + k, 10, -18.2});
}

TEST(PieceWords, a_block_that_comes_loose_and_is_milled_away_is_one_line) {
  Scene s;
  addMoves(s, 50);
  Piece p = piece(9);
  p.ended_by = MoveRef{0, 43};
  p.milled = true;
  s.programRun().pieces.push_back(p);
  EXPECT_THAT(lines(s), ElementsAre("line 10: part 37 × 37 mm comes loose; milled away by line 44"));
}

TEST(PieceWords, pieces_stand_in_order_of_time_however_they_were_found) {
  Scene s;
  addMoves(s, 30);
  s.programRun().pieces = {piece(20), piece(4), piece(11)};
  EXPECT_THAT(lines(s), ElementsAre("line 5: part 37 × 37 mm comes loose", "line 12: part 37 × 37 mm comes loose",
                                    "line 21: part 37 × 37 mm comes loose"));
}

TEST(PieceWords, what_comes_off_a_loose_piece_names_it_by_its_line) {
  Scene s;
  addMoves(s, 30);
  Piece slug = piece(16);
  slug.of_loose = true;
  slug.parent = PieceRef{0, 1};
  s.programRun().pieces = {slug, piece(9)};
  EXPECT_THAT(lines(s), ElementsAre("line 10: part 37 × 37 mm comes loose",
                                    "line 17: part 37 × 37 mm cut off the part that came loose on line 10"));
}

TEST(PieceWords, what_holds_a_piece_is_named_and_when_it_is_gone) {
  Scene s;
  s.job().stock.material_given = true;  // softwood
  const int clamp_a = s.addHoldDown(clamp("clamp A", {30, 30}, {20, 20}, 12));
  addMoves(s, 30);
  Piece p = piece(9, false);
  p.held_by_hold_downs = {clamp_a};
  p.held_by_tape = true;
  p.loosened_by = MoveRef{0, 19};
  s.programRun().pieces = {p};
  EXPECT_THAT(lines(s), ElementsAre("line 10: part 37 × 37 mm cut out, held by clamp A and tape; line 20 mills away "
                                    "the last wood that held it: now loose"));
}

TEST(PieceWords, the_screw_or_the_tape_that_loses_its_wood_is_named_where_it_is_the_only_one) {
  Scene s;
  s.job().stock.material_given = true;  // softwood
  const int clamp_a = s.addHoldDown(clamp("clamp A", {30, 30}, {20, 20}, 12));
  addMoves(s, 30);
  Piece clamped = piece(9, false), taped = piece(11, false);
  clamped.held_by_hold_downs = {clamp_a};
  taped.held_by_tape = true;
  clamped.loosened_by = taped.loosened_by = MoveRef{0, 19};
  s.programRun().pieces = {clamped, taped};
  EXPECT_THAT(lines(s), ElementsAre("line 10: part 37 × 37 mm cut out, held by clamp A; line 20 mills away the wood "
                                    "under clamp A: now loose",
                                    "line 12: part 37 × 37 mm cut out, held by tape; line 20 mills away the tape: now "
                                    "loose"));
}

TEST(PieceWords, of_two_programs_that_cut_into_a_loose_part_the_first_is_told_as_such) {
  Scene s;
  addMoves(s, 30);
  Piece p = piece(9);
  p.cut_loose = {{{1, 3}, true}, {{0, 18}, true}, {{0, 15}, true}};
  s.programRun().pieces = {p};
  s.addProgram("20-holes.nc");
  addMoves(s, 12);
  EXPECT_THAT(lines(s), ElementsAre("10-cut.nc line 10: part 37 × 37 mm comes loose; the bit first cuts into it on "
                                    "lines 16-19"));
}

TEST(PieceWords, changes_are_apart_even_where_a_programs_name_has_a_semicolon) {
  Scene s;
  addMoves(s, 12);
  Piece p = piece(9);
  p.ended_by = MoveRef{1, 4};
  p.milled = true;
  s.programRun().pieces = {p};
  s.addProgram("clear; all.nc");
  addMoves(s, 12);
  const auto pieces = pieceHistories(s.facts());
  EXPECT_THAT(pieceChanges(s.facts(), pieces, 0), ElementsAre("milled away by clear; all.nc line 5"));
}

TEST(PieceWords, programs_are_named_where_there_are_several) {
  Scene s;
  addMoves(s, 12);
  Piece p = piece(9);
  p.ended_by = MoveRef{1, 4};
  p.milled = true;
  s.programRun().pieces = {p};
  s.addProgram("20-clear.nc");
  addMoves(s, 12);
  EXPECT_THAT(lines(s), ElementsAre("10-cut.nc line 10: part 37 × 37 mm comes loose; milled away by "
                                    "20-clear.nc line 5"));
}

TEST(PieceWords, a_piece_whose_clamp_is_off_for_the_next_program_is_loose_from_its_start) {
  Scene s;
  const int clamp_a = s.addHoldDown(clamp("clamp A", {30, 30}, {20, 20}, 12));
  addMoves(s, 12);
  Piece held = piece(9, false);
  held.held_by_hold_downs = {clamp_a};
  s.programRun().pieces = {held};
  s.addProgram("20-holes.nc");
  addMoves(s, 12);
  Piece cut_there = piece(0), released = piece(0);
  released.held_before = {clamp_a};
  released.told_before = PieceRef{0, 0};
  s.programRun(1).pieces = {cut_there, released};
  EXPECT_THAT(lines(s),
              ElementsAre("10-cut.nc line 10: part 37 × 37 mm cut out, held by clamp A; 20-holes.nc starts without "
                          "clamp A: now loose",
                          "20-holes.nc line 1: part 37 × 37 mm comes loose"));
}

TEST(PieceWords, a_part_on_tabs_and_the_line_that_cuts_the_last_of_them_are_one_line) {
  Pine s(2);
  s.piece().beside.clear();  // no force to compare them with
  addMoves(s, 11);
  s.addProgram("side2.nc");
  addMoves(s, 30);
  Piece small = s.piece(), off = s.piece();
  small.tabs.clear();
  off.tabs.clear();
  small.move = 10;
  small.plan_area_mm2 = 100;  // a slug within the part
  off.move = 29;
  off.told_before = PieceRef{0, 0};
  small.free = off.free = true;
  s.programRun(1).pieces = {off, small};
  EXPECT_THAT(lines(s),
              ElementsAre("10-cut.nc line 1: part 96 × 45 mm left on 2 tabs (48 mm² in total, smallest 24 mm²); "
                          "side2.nc line 30 cuts its last tab: now loose",
                          "side2.nc line 11: offcut 96 × 45 mm comes loose"));
  EXPECT_EQ(pieceHistories(s.facts())[0].tabs_cut->move, 29U);
  EXPECT_EQ(pieceHistories(s.facts())[1].parent, std::nullopt);
}

// Tabs first, then a clamp alone, then nothing.
TEST(PieceWords, whatever_holds_a_part_is_told_in_order_until_nothing_does) {
  Pine s(1);
  s.piece().beside.clear();
  const int clamp_a = s.addHoldDown(clamp("clamp A", {30, 30}, {20, 20}, 12));
  s.piece().held_by_hold_downs = {clamp_a};
  addMoves(s, 20);
  Piece off = s.piece();
  off.tabs.clear();
  off.move = 15;
  off.told_before = PieceRef{0, 0};
  s.programRun().pieces.push_back(off);
  s.addProgram("20-holes.nc");
  addMoves(s, 12);
  Piece released = off;
  released.move = 0;
  released.held_by_hold_downs.clear();
  released.held_before = {clamp_a};
  released.told_before = PieceRef{0, 1};
  released.free = true;
  released.cut_loose = {{{1, 3}, true}};
  s.programRun(1).pieces = {released};
  EXPECT_THAT(
      lines(s),
      ElementsAre("10-cut.nc line 1: part 96 × 45 mm left on one tab (24 mm²), held by clamp A too; line 16 cuts "
                  "its tab: now held only by clamp A; 20-holes.nc starts without clamp A: now loose; 20-holes.nc "
                  "cuts into it on line 4"));
}

TEST(PieceWords, a_part_that_loses_one_of_its_tabs_first_is_still_one) {
  Pine s(2);
  s.piece().beside.clear();
  s.addProgram("20-tab.nc");
  addMoves(s, 12);
  Piece fewer = s.piece();
  fewer.tabs.resize(1);
  fewer.told_before = PieceRef{0, 0};
  s.programRun(1).pieces = {fewer};
  s.addProgram("30-tab.nc");
  addMoves(s, 12);
  Piece off = s.piece();
  off.tabs.clear();
  off.free = true;
  off.move = 5;
  off.told_before = PieceRef{1, 0};
  s.programRun(2).pieces = {off};
  EXPECT_THAT(lines(s),
              ElementsAre("10-cut.nc line 1: part 96 × 45 mm left on 2 tabs (48 mm² in total, smallest 24 mm²); "
                          "20-tab.nc line 1 leaves one tab (24 mm²); 30-tab.nc line 6 cuts its last tab: now loose"));
}

TEST(PieceWords, a_skin_is_cut_as_a_skin) {
  Pine s(1);
  s.piece().beside.clear();
  s.piece().tabs[0].onion_skin = true;
  s.piece().tabs[0].length_mm = 276.86;
  s.piece().tabs[0].thickness_mm = 0.4;
  addMoves(s, 11);
  Piece off = s.piece();
  off.tabs.clear();
  off.move = 10;
  off.free = true;
  off.told_before = PieceRef{0, 0};
  s.programRun().pieces.push_back(off);
  EXPECT_THAT(lines(s), ElementsAre("line 1: part 96 × 45 mm left on an onion skin 0.4 mm thick and 277 mm long; line "
                                    "11 cuts its onion skin: now loose"));
}

TEST(PieceWords, tabs_are_compared_with_the_cutter_beside_them) {
  Pine s(2);
  s.deep(2);
  // 15.467 N against 2 × 2.25 N.
  EXPECT_THAT(lines(s), ElementsAre("line 1: part 96 × 45 mm left on 2 tabs (48 mm² in total, smallest 24 mm²; "
                                    "weakest holds 15 N, cutter's push 4.5 N)"));
}

}  // namespace
}  // namespace provecut
