// What vacuum, glue, vises and side clamps hold, and what they do not.
#include <gtest/gtest.h>

#include <algorithm>

#include "tests/sim/scene.h"

namespace provecut::testing {
namespace holding_test {

constexpr double thickness = 12;
constexpr double through = -thickness - 0.2;
constexpr Vec3 size{200, 120, thickness};

HoldDown box(HoldDownKind kind, SetupPoint2 low, SetupPoint2 high, double top = -4) {
  HoldDown h;
  h.name = "box";
  h.kind = kind;
  h.at_mm = middle(low, high);
  h.size_mm = high - low;
  h.top_mm = top;
  return h;
}

HoldDown under(HoldDownKind kind) {
  return box(kind, {0, 0}, {size.x, size.y}, -thickness);
}

// Jaws 60 wide, `gap` from the edges of the stock.
HoldDown front(double gap = 0, HoldDownKind kind = HoldDownKind::vise) {
  return box(kind, {70, -30}, {130, -gap});
}
HoldDown back(double gap = 0, HoldDownKind kind = HoldDownKind::vise) {
  return box(kind, {70, size.y + gap}, {130, size.y + 30});
}
HoldDown left() {
  return box(HoldDownKind::vise, {-30, 40}, {0, 80});
}
HoldDown right() {
  return box(HoldDownKind::vise, {size.x, 40}, {size.x + 30, 80});
}
HoldDown unplacedVise() {
  HoldDown h = box(HoldDownKind::vise, {0, 0}, {size.x, size.y}, -thickness);
  h.unplaced = true;
  return h;
}

ProgramRun cut(const std::vector<HoldDown>& hold_downs, const Moves& moves) {
  Job job = stockOf(size, {flatTool(1, 6)});
  job.hold_downs = hold_downs;
  std::vector<int> all;
  for (int i = 0; i < std::ssize(hold_downs); ++i) all.push_back(i);
  addProgram(job, 0, 1, all);
  const Program program = moves.program();
  return run(job, std::vector<Program>{program}).programs[0];
}

Moves part(WorkPoint2 low = {57, 32}, WorkPoint2 high = {143, 88}) {
  return Moves(1).rectangle(low, high, through);
}
Moves inTwo() {
  return Moves(1).slot({{100, -10}, {100, size.y + 10}}, -through);
}
Moves groove() {
  return Moves(1).slot({{40, 60}, {160, 60}}, 3);
}

bool stockHeld(const ProgramRun& r) {
  return !r.holding.front().part && !r.holding.front().by.empty();
}

std::size_t loosePieces(const ProgramRun& r) {
  return static_cast<std::size_t>(
      std::count_if(r.pieces.begin(), r.pieces.end(), [](const Piece& p) { return p.free; }));
}

TEST(Holding, glue_and_vacuum_hold_the_stock_and_every_part_that_lies_on_them) {
  for (const HoldDownKind kind : {HoldDownKind::glue, HoldDownKind::vacuum, HoldDownKind::tape}) {
    const ProgramRun r = cut({under(kind)}, part());
    EXPECT_TRUE(stockHeld(r));
    ASSERT_EQ(r.pieces.size(), 1U);
    EXPECT_FALSE(r.pieces[0].free);
    EXPECT_EQ(r.pieces[0].held_by_hold_downs, std::vector<int>{0});
  }
}

TEST(Holding, a_small_piece_slips_under_vacuum_and_not_on_glue) {
  const Moves small = part({57, 57}, {83, 83});  // 20 × 20 mm are left of it
  EXPECT_EQ(loosePieces(cut({under(HoldDownKind::vacuum)}, small)), 1U);
  EXPECT_EQ(loosePieces(cut({under(HoldDownKind::glue)}, small)), 0U);
  EXPECT_EQ(loosePieces(cut({under(HoldDownKind::vacuum)}, part({57, 57}, {89, 89}))), 0U) << "26 × 26 mm";
}

TEST(Holding, glue_beside_the_part_does_not_hold_it) {
  const HoldDown beside = box(HoldDownKind::glue, {0, 0}, {40, size.y}, -thickness);
  EXPECT_EQ(loosePieces(cut({beside}, part())), 1U);
}

TEST(Holding, a_vise_holds_the_rim_and_no_part_cut_out_of_it) {
  EXPECT_TRUE(stockHeld(cut({front(), back()}, groove())));
  const ProgramRun r = cut({front(), back()}, part());
  EXPECT_TRUE(stockHeld(r));
  EXPECT_EQ(loosePieces(r), 1U);
}

TEST(Holding, a_jaw_must_touch_the_stock_from_within_a_millimetre) {
  EXPECT_TRUE(stockHeld(cut({front(0.9), back(0.9)}, groove())));
  EXPECT_FALSE(stockHeld(cut({front(1.1), back()}, groove())));
}

TEST(Holding, it_takes_two_jaws_from_opposite_sides) {
  EXPECT_FALSE(stockHeld(cut({front()}, groove())));
  EXPECT_FALSE(stockHeld(cut({front(), left()}, groove())));
  EXPECT_TRUE(stockHeld(cut({front(), back(0, HoldDownKind::side_clamp)}, groove())));
  EXPECT_TRUE(stockHeld(cut({left(), right(), front()}, groove())));
}

TEST(Holding, of_stock_cut_in_two_each_half_needs_both_jaws) {
  EXPECT_EQ(loosePieces(cut({front(), back()}, inTwo())), 0U);
  EXPECT_GE(loosePieces(cut({left(), right()}, inTwo())), 1U);
}

TEST(Holding, a_vise_that_nobody_placed_holds_what_reaches_all_four_sides) {
  EXPECT_TRUE(stockHeld(cut({unplacedVise()}, groove())));
  EXPECT_EQ(loosePieces(cut({unplacedVise()}, part())), 1U);
  EXPECT_GE(loosePieces(cut({unplacedVise()}, inTwo())), 1U);
}

TEST(Holding, a_jaw_is_in_the_tools_way_and_what_nobody_placed_is_not) {
  const Moves over = Moves(1).slot({{100, -10}, {100, 60}}, 6);
  EXPECT_FALSE(cut({front(), back()}, over).contacts.empty());
  EXPECT_TRUE(cut({unplacedVise()}, over).contacts.empty());
  EXPECT_TRUE(cut({under(HoldDownKind::vacuum)}, part()).contacts.empty());
}

}  // namespace holding_test
}  // namespace provecut::testing
