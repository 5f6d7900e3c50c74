// Every piece at the move that parts it, whatever becomes of it later: the truth is known from how each scene is built.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/sim/scene.h"

namespace provecut::testing {
namespace parting_test {

constexpr double thickness = 6, through = -thickness - 0.2;

HoldDown screw(SetupPoint2 at) {
  HoldDown h;
  h.name = "screw";
  h.kind = HoldDownKind::screw;
  h.at_mm = at;
  h.diameter_mm = 8;
  h.top_mm = thickness + 3;
  return h;
}

HoldDown tape(SetupPoint2 at, Vec2 size) {
  HoldDown h;
  h.name = "tape";
  h.kind = HoldDownKind::tape;
  h.at_mm = at;
  h.size_mm = size;
  return h;
}

// Stock 80 x 80 with a 3 mm bit.
Run check(const std::vector<HoldDown>& hold_downs, const std::vector<Program>& programs) {
  Job job = stockOf({80, 80, thickness}, {flatTool(1, 3)});
  job.hold_downs = hold_downs;
  std::vector<int> fitted;
  for (int h = 0; h < std::ssize(hold_downs); ++h) fitted.push_back(h);
  for (std::size_t k = 0; k < programs.size(); ++k) addProgram(job, 0, 1, fitted);
  return run(job, programs);
}

// A square kerf whose inside is `side` wide, about the middle of the stock; gives the move that closes it.
std::uint32_t kerf(Moves& m, double side, WorkPoint2 middle = {40, 40}) {
  const double half = (side + 3) / 2;
  m.rectangle({middle.x - half, middle.y - half}, {middle.x + half, middle.y + half}, through);
  return m.count() - 2;
}

bool near(double a, double b, double tolerance) {
  return std::abs(a - b) <= tolerance;
}

TEST(Parting, a_block_that_is_milled_away_later_was_loose_all_the_same) {
  Moves m(1);
  const std::uint32_t closing = kerf(m, 37);
  const std::uint32_t first_into = m.count() + 2;
  for (double x = 22; x < 60; x += 2) m.slot({{x, 20}, {x, 60}}, thickness + 0.2);
  const auto r = check({screw({6, 6})}, {m.program()});
  ASSERT_EQ(r.programs[0].pieces.size(), 1U);
  const Piece& p = r.programs[0].pieces[0];
  EXPECT_TRUE(p.free);
  EXPECT_EQ(p.move, closing);
  EXPECT_TRUE(near(p.plan_area_mm2, 37 * 37, 37 * 4 * 0.125)) << p.plan_area_mm2;
  EXPECT_TRUE(p.milled);
  ASSERT_TRUE(p.ended_by);
  EXPECT_GT(p.ended_by->move, first_into);
  const auto into = std::count_if(p.cut_loose.begin(), p.cut_loose.end(), [](const CutAtLoose& c) { return c.into; });
  EXPECT_GE(into, 15);
  const auto first = std::min_element(p.cut_loose.begin(), p.cut_loose.end(),
                                      [](const auto& a, const auto& b) { return a.by.move < b.by.move; });
  EXPECT_GE(first->by.move, first_into - 1);
}

TEST(Parting, an_inner_loop_after_the_outline_splits_what_was_loose_by_then) {
  Moves m(1);
  const std::uint32_t outer = kerf(m, 27), inner = kerf(m, 15);
  const auto r = check({screw({6, 6})}, {m.program()});
  ASSERT_EQ(r.programs[0].pieces.size(), 2U);
  const Piece &whole = r.programs[0].pieces[0], &slug = r.programs[0].pieces[1];
  EXPECT_EQ(whole.move, outer);
  EXPECT_TRUE(near(whole.plan_area_mm2, 27 * 27, 27 * 4 * 0.125)) << whole.plan_area_mm2;
  EXPECT_TRUE(whole.free);
  EXPECT_FALSE(whole.of_loose);
  EXPECT_FALSE(whole.cut_loose.empty());
  EXPECT_EQ(slug.move, inner);
  EXPECT_TRUE(slug.free);
  EXPECT_TRUE(slug.of_loose);
}

TEST(Parting, the_inside_first_and_the_outline_last_leaves_a_slug_and_a_part) {
  Moves m(1);
  const std::uint32_t inner = kerf(m, 9), outer = kerf(m, 27);
  const auto r = check({screw({6, 6})}, {m.program()});
  ASSERT_EQ(r.programs[0].pieces.size(), 2U);
  EXPECT_EQ(r.programs[0].pieces[0].move, inner);
  EXPECT_EQ(r.programs[0].pieces[1].move, outer);
  EXPECT_FALSE(r.programs[0].pieces[1].of_loose);
}

TEST(Parting, a_frame_whose_only_screw_stands_in_the_part_is_loose_from_the_outline_on) {
  Moves m(1);
  const std::uint32_t outer = kerf(m, 27);
  kerf(m, 12, {12, 12});
  const auto r = check({screw({40, 40})}, {m.program()});
  std::vector<Piece> loose;
  for (const Piece& p : r.programs[0].pieces) {
    if (p.free) loose.push_back(p);
  }
  EXPECT_EQ(r.programs[0].pieces.size(), 3U) << "the part that the screw holds is told too";
  ASSERT_EQ(loose.size(), 2U);
  EXPECT_EQ(loose[0].move, outer);
  EXPECT_TRUE(near(loose[0].plan_area_mm2, 80 * 80 - 33 * 33, 40)) << "the frame";
  EXPECT_TRUE(loose[1].of_loose) << "what the frame loses was loose with it";
}

TEST(Parting, tabs_cut_by_a_later_program_part_at_the_move_that_does_not_at_the_last_about_them) {
  // The outline but for 8 mm in the middle of its last side; then a program that goes over this place three times.
  Moves outline(1), tabs(1);
  const double half = 15;
  outline.rapid({40 - half, 40 - half, 5}).feed({40 - half, 40 - half, through});
  outline.feed({40 + half, 40 - half, through}).feed({40 + half, 40 + half, through});
  outline.feed({40 - half, 40 + half, through}).feed({40 - half, 44, through}).rapid({40 - half, 44, 5});
  outline.rapid({40 - half, 36, 5}).feed({40 - half, 36, through}).feed({40 - half, 40 - half, through});
  outline.rapid({0, 0, 5});
  for (const double depth : {2.0, 4.0, 6.2, 6.2, 6.2}) tabs.slot({{40 - half, 44}, {40 - half, 36}}, depth);
  const auto r = check({screw({6, 6})}, {outline.program(), tabs.program()});
  const auto& pieces = r.programs[1].pieces;
  const auto freed = std::find_if(pieces.begin(), pieces.end(), [](const Piece& p) { return p.free; });
  ASSERT_NE(freed, pieces.end());
  EXPECT_EQ(freed->move, 10U);  // four moves each: the third time through, along the slot
}

TEST(Parting, a_part_whose_tape_is_milled_away_later_comes_loose_then) {
  Moves m(1);
  const std::uint32_t closing = kerf(m, 37);
  m.slot({{32, 34}, {48, 34}}, thickness + 0.2).slot({{32, 36.5}, {48, 36.5}}, thickness + 0.2);
  const std::uint32_t before = m.count();
  m.slot({{32, 39}, {48, 39}}, thickness + 0.2);
  // Tape 10 x 9: the third slot leaves less than a strip of 2 mm.
  const auto r = check({screw({6, 6}), tape({40, 37}, {10, 9})}, {m.program()});
  ASSERT_GE(r.programs[0].pieces.size(), 1U);
  const Piece& p = r.programs[0].pieces[0];
  EXPECT_EQ(p.move, closing);
  EXPECT_FALSE(p.free);
  EXPECT_TRUE(p.held_by_tape);
  ASSERT_TRUE(p.loosened_by);
  EXPECT_GE(p.loosened_by->move, before + 1);
}

TEST(Parting, a_patch_of_tape_five_by_five_holds_wherever_it_lies) {
  for (const double shift : {0.0, 0.03, 0.1, 0.125, 0.19}) {
    Moves m(1);
    kerf(m, 37);
    const auto r = check({screw({6, 6}), tape({40 + shift, 40 - shift}, {5, 5})}, {m.program()});
    ASSERT_EQ(r.programs[0].pieces.size(), 1U);
    EXPECT_FALSE(r.programs[0].pieces[0].free) << shift;
    const auto small = check({screw({6, 6}), tape({40 + shift, 40 - shift}, {4, 4})}, {m.program()});
    EXPECT_TRUE(small.programs[0].pieces.at(0).free) << shift;
  }
}

TEST(Parting, cutting_beside_a_loose_part_is_told_apart_from_cutting_into_it) {
  // The part's left edge is at 26.5, the kerf's other at 23.5: a bit at 24.7 widens the kerf on the frame's side.
  Moves m(1);
  kerf(m, 27);
  const std::uint32_t beside = m.count() + 2;
  m.slot({{24.7, 30}, {24.7, 50}}, thickness + 0.2).slot({{8, 30}, {8, 50}}, 2);
  const auto r = check({screw({70, 70})}, {m.program()});
  ASSERT_EQ(r.programs[0].pieces.size(), 1U);
  const std::vector<CutAtLoose>& cuts = r.programs[0].pieces[0].cut_loose;
  ASSERT_FALSE(cuts.empty());
  for (const CutAtLoose& c : cuts) {
    EXPECT_FALSE(c.into);
    EXPECT_GE(c.by.move, beside - 1);
    EXPECT_LE(c.by.move, beside);
  }
}

// The tongue on the right stands between two lips of what is left of it, 3 mm from each face.
TEST(Parting, where_an_undercut_parts_the_stock_the_line_is_not_checked_and_that_is_said) {
  Job job = stockOf({120, 60, 12}, {flatTool(1, 10), keyholeTool(2, 16, 6, 8, 30)});
  HoldDown screw;
  screw.name = "screw";
  screw.kind = HoldDownKind::screw;
  screw.at_mm = {20, 30};
  screw.diameter_mm = 8;
  screw.top_mm = 3;
  job.hold_downs = {screw};
  provecut::Setup back = job.setups[0];
  back.flip = Flip::front_back;
  job.setups.push_back(back);
  Moves top(1), groove(2);
  for (double x = 85; x < 126; x += 8) top.slot({{x, -10}, {x, 70}}, 3);
  groove.rapid({72, -20, 5}).rapid({72, -20, -9}).feed({72, 80, -9}).rapid({72, 80, 5});
  groove.rapid({-2, -20, 5}).rapid({-2, -20, -9}).feed({-2, 80, -9}).rapid({-2, 80, 5});
  addProgram(job, 0, 1, {0});
  addProgram(job, 1, 1, {0});
  addProgram(job, 1, 2, {0});
  const std::vector<Program> programs{top.program(), top.program(), groove.program()};
  const auto r = run(job, programs);
  ASSERT_EQ(r.programs[2].pieces.size(), 1U);
  EXPECT_TRUE(r.programs[2].pieces[0].free);
  EXPECT_TRUE(std::any_of(r.not_checked.begin(), r.not_checked.end(), [](const std::string& n) {
    return n.find("by which line was not checked") != std::string::npos;
  }));
}

}  // namespace parting_test
}  // namespace provecut::testing
