// Cuts from both sides that open into each other: pockets by their corners, so that what they share is known.
#include <gtest/gtest.h>

#include "tests/sim/scene.h"

namespace provecut::testing {
namespace broken_through_test {

constexpr double wide = 120, deep = 80, thick = 18;

Job stock(Flip flip, double cell_mm = 0.25) {
  Job job = stockOf({wide, deep, thick}, {flatTool(1, 6), ballTool(2, 12)}, cell_mm);
  Setup back = job.setups[0];
  back.flip = flip;
  job.setups.push_back(back);
  return job;
}

// Clears a rectangle with the 6 mm bit, its corners round.
void pocket(Moves& m, WorkPoint2 low, WorkPoint2 high, double depth_mm) {
  std::vector<WorkPoint2> way;
  bool right = true;
  for (double y = low.y + 3; y < high.y - 3 + 2.5; y += 2.5) {
    const double at = std::min(y, high.y - 3);
    way.push_back({right ? low.x + 3 : high.x - 3, at});
    way.push_back({right ? high.x - 3 : low.x + 3, at});
    right = !right;
  }
  m.slot(way, depth_mm);
}

std::vector<BrokenThrough> breaks(Job job, const Moves& front, const Moves& back) {
  addProgram(job, 0, front.program().motions.front().tool);
  addProgram(job, 1, back.program().motions.front().tool);
  return run(job, std::vector<Program>{front.program(), back.program()}).programs.at(1).broken_through;
}

// From the front X 20 to 50, Y 20 to 60. From the back at X 60 to 100: flipped left to right that is X 20 to 60 of the
// front, flipped front to back it lies beside.
Moves front() {
  Moves m(1);
  pocket(m, {20, 20}, {50, 60}, 10);
  return m;
}

TEST(BrokenThrough, pockets_side_by_side_that_a_wrong_flip_lays_over_each_other_are_told_with_their_hole) {
  Moves back(1);
  pocket(back, {55, 10}, {85, 50}, 10);
  EXPECT_TRUE(breaks(stock(Flip::front_back), front(), back).empty());
  // X 35 to 65 of the front: 35 to 50 is shared, Y 20 to 50.
  const auto found = breaks(stock(Flip::left_right), front(), back);
  ASSERT_EQ(found.size(), 1U);
  const BrokenThrough& b = found[0];
  EXPECT_NEAR(b.size_mm.x, 15, 0.5);
  EXPECT_NEAR(b.size_mm.y, 30, 0.5);
  EXPECT_NEAR(b.area_mm2, 15 * 30, 10);  // but for two round corners
  EXPECT_NEAR(b.depth_mm, 10, 1e-4);
  EXPECT_NEAR(b.other_depth_mm, 10, 1e-4);
  EXPECT_NEAR(b.at.x, wide - 42.5, 1);
  EXPECT_NEAR(b.at.y, 35, 1);
  EXPECT_NEAR(b.at.z, -9, 1e-4);  // halfway between -10 and 10 - 18
}

TEST(BrokenThrough, pockets_that_leave_a_floor_are_not_told_and_a_tenth_deeper_they_are) {
  Moves shallow(1), deeper(1);
  pocket(shallow, {55, 10}, {85, 50}, 7.95);
  pocket(deeper, {55, 10}, {85, 50}, 8.05);
  EXPECT_TRUE(breaks(stock(Flip::left_right), front(), shallow).empty());
  EXPECT_EQ(breaks(stock(Flip::left_right), front(), deeper).size(), 1U);
}

TEST(BrokenThrough, a_window_cut_half_from_each_side_is_meant) {
  Moves back(1);
  pocket(back, {70, 20}, {100, 60}, 10);
  EXPECT_TRUE(breaks(stock(Flip::left_right), front(), back).empty());
  Moves half_a_millimetre_off(1);
  pocket(half_a_millimetre_off, {70.5, 20}, {100.5, 60}, 10);
  EXPECT_TRUE(breaks(stock(Flip::left_right), front(), half_a_millimetre_off).empty());
  Moves ten_off(1);
  pocket(ten_off, {80, 20}, {110, 60}, 10);
  EXPECT_EQ(breaks(stock(Flip::left_right), front(), ten_off).size(), 1U);
}

TEST(BrokenThrough, an_outline_cut_half_from_each_side_is_meant_with_tabs_left_on_one_side) {
  Moves outline(1), with_tab(1);
  outline.rectangle({30, 20}, {90, 60}, -10);
  with_tab.rapid({30, 20, 5}).feed({30, 20, -10}).feed({55, 20, -10}).feed({55, 20, -5}).feed({65, 20, -5});
  with_tab.feed({65, 20, -10}).feed({90, 20, -10}).feed({90, 60, -10}).feed({30, 60, -10}).feed({30, 20, -10});
  EXPECT_TRUE(breaks(stock(Flip::left_right), outline, with_tab).empty());
  EXPECT_TRUE(breaks(stock(Flip::left_right), with_tab, outline).empty());
}

TEST(BrokenThrough, a_hole_into_the_floor_of_a_pocket_is_meant_and_one_across_its_wall_is_not) {
  Moves inside(1), across(1);
  pocket(inside, {80, 30}, {90, 40}, 10);
  pocket(across, {95, 30}, {105, 40}, 10);  // X 15 to 25 of the front: half of it
  EXPECT_TRUE(breaks(stock(Flip::left_right), front(), inside).empty());
  const auto found = breaks(stock(Flip::left_right), front(), across);
  ASSERT_EQ(found.size(), 1U);
  // Two of its corners are round: each lacks a quarter of a square of 6 mm about a circle.
  EXPECT_NEAR(found[0].area_mm2, 5 * 10 - 2 * 9 * (1 - 3.14159 / 4), 1.5);
}

TEST(BrokenThrough, a_cut_that_goes_through_by_itself_in_the_other_pocket_is_meant) {
  Moves back(1);
  pocket(back, {55, 10}, {85, 50}, 18.2);
  EXPECT_TRUE(breaks(stock(Flip::left_right), front(), back).empty());
  // Beside its own hole right through the pocket still breaks through.
  Moves both(1);
  pocket(both, {55, 10}, {85, 50}, 10);
  both.slot({{75, 30}, {75, 40}}, 18.2);
  EXPECT_EQ(breaks(stock(Flip::left_right), front(), both).size(), 1U);
}

TEST(BrokenThrough, one_crossing_of_grooves_is_told_and_a_grille_of_them_is_meant) {
  Moves along(1), across(1);
  for (double y = 15; y < 70; y += 15) along.slot({{20, y}, {100, y}}, 10);
  for (double x = 30; x < 100; x += 15) across.slot({{x, 5}, {x, 75}}, 10);
  EXPECT_TRUE(breaks(stock(Flip::left_right), along, across).empty());
  const auto one = breaks(stock(Flip::left_right), Moves(1).slot({{20, 40}, {100, 40}}, 10),
                          Moves(1).slot({{50, 10}, {50, 70}}, 10));
  ASSERT_EQ(one.size(), 1U);
  EXPECT_NEAR(one[0].area_mm2, 36, 2);
}

TEST(BrokenThrough, ball_grooves_that_overlap_by_their_sides_are_told) {
  // Width of each at the height where they meet, 9 mm: a ball of 6 mm radius 1 mm deeper than that is 2 sqrt(11).
  const auto found = breaks(stock(Flip::left_right), Moves(2).slot({{30, 20}, {30, 60}}, 10),
                            Moves(2).slot({{wide - 32, 10}, {wide - 32, 50}}, 10));
  ASSERT_EQ(found.size(), 1U);
}

TEST(BrokenThrough, the_hole_is_the_same_on_other_cells) {
  Moves back(1);
  pocket(back, {55, 10}, {85, 50}, 10);
  for (const double cell_mm : {0.5, 0.3}) {
    const auto found = breaks(stock(Flip::left_right, cell_mm), front(), back);
    ASSERT_EQ(found.size(), 1U) << cell_mm;
    EXPECT_NEAR(found[0].area_mm2, 15 * 30, 12) << cell_mm;
  }
}

}  // namespace broken_through_test
}  // namespace provecut::testing
