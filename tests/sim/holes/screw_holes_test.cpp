// What screws stand in, and the holes they leave.
#include <gtest/gtest.h>

#include "sim/holes/old_hole.h"
#include "sim/holes/screw_seat.h"
#include "tests/sim/placing/scene.h"

namespace provecut {
namespace {

using namespace place_scene;

// A screw of 4.2 under a head of 9 at (100, 60) for the programs of the first setup; the second setup lies left-right.
Job screwed(int first_programs, int second_programs) {
  Job job = plainJob();
  HoldDown screw = roundForm(9, 4.5);
  screw.name = "screw";
  screw.at_mm = {100, 60};
  screw.shaft_diameter_mm = 4.2;
  job.hold_downs = {screw};
  ProgramEntry with;
  with.hold_downs = {0};
  job.setups[0].programs.assign(static_cast<std::size_t>(first_programs), with);
  provecut::Setup back = job.setups[0];
  back.flip = Flip::left_right;
  back.programs.assign(static_cast<std::size_t>(second_programs), ProgramEntry{});
  if (second_programs > 0) job.setups.push_back(back);
  return job;
}

TEST(ScrewSeat, full_thickness_where_nothing_is_cut) {
  const auto seats = holes::screwSeats(screwed(1, 0), std::vector<Program>(1), 0.5);
  ASSERT_EQ(seats.size(), 1u);
  EXPECT_DOUBLE_EQ(seats[0].thickness_mm, 20);
  EXPECT_EQ(seats[0].pilot_mm, 0);
}

TEST(ScrewSeat, a_pocket_under_part_of_the_head_counts_once_it_is_cut) {
  // 8 deep, its edge on x = 97: 3 from the axis, beyond the shaft of 2.1 and under the head of 4.5.
  const Program pocket = programOf({feed({94, 20, -8}, {94, 100, -8})});
  const auto seats = holes::screwSeats(screwed(2, 0), std::vector<Program>{pocket, Program{}}, 0.25);
  ASSERT_EQ(seats.size(), 2u);
  EXPECT_DOUBLE_EQ(seats[0].thickness_mm, 20);
  EXPECT_NEAR(seats[1].thickness_mm, 12, 1e-5);
  EXPECT_DOUBLE_EQ(seats[1].rests_at_mm, 20);  // on the other half
  EXPECT_EQ(seats[1].pilot_mm, 0);
}

TEST(ScrewSeat, a_head_in_a_pocket_rests_on_its_floor_and_over_a_pocket_of_the_other_side_on_the_top) {
  // 8 deep, wider than the head; on the back it lies under the head's mirror image.
  const Program pocket = programOf(
      {feed({100, 50, -8}, {100, 70, -8}), feed({104, 50, -8}, {104, 70, -8}), feed({96, 50, -8}, {96, 70, -8})});
  Job job = screwed(2, 2);
  job.setups[1].programs[1].hold_downs = {0};
  job.hold_downs[0].at_mm = {100, 60};
  auto seats = holes::screwSeats(job, std::vector<Program>{pocket, Program{}, Program{}, Program{}}, 0.25);
  ASSERT_EQ(seats.size(), 3u);
  EXPECT_NEAR(seats[1].rests_at_mm, 12, 1e-5);
  EXPECT_DOUBLE_EQ(seats[2].rests_at_mm, 20);  // 200 from the pocket's mirror image
  job.hold_downs[0].at_mm = {200, 60};         // where the pocket lies when the stock is turned over
  seats = holes::screwSeats(job, std::vector<Program>{pocket, Program{}, Program{}, Program{}}, 0.25);
  ASSERT_EQ(seats.size(), 3u);
  EXPECT_NEAR(seats[2].thickness_mm, 12, 1e-5);
  EXPECT_DOUBLE_EQ(seats[2].rests_at_mm, 20);
}

TEST(ScrewSeat, a_head_over_a_hole_right_through_rests_on_nothing) {
  const Program window = programOf(
      {feed({100, 40, -21}, {100, 80, -21}), feed({104, 40, -21}, {104, 80, -21}), feed({96, 40, -21}, {96, 80, -21})});
  const auto seats = holes::screwSeats(screwed(2, 0), std::vector<Program>{window, Program{}}, 0.25);
  EXPECT_EQ(seats[1].thickness_mm, 0);
  EXPECT_EQ(seats[1].rests_at_mm, 0);
}

TEST(ScrewSeat, a_pilot_hole_on_the_axis_takes_nothing_from_under_the_head) {
  Job job = screwed(2, 0);
  job.tools[0].diameter_mm = 3;
  job.tools[0].shank_diameter_mm = 3;
  const auto seats =
      holes::screwSeats(job, std::vector<Program>{programOf({feed({100, 60, 5}, {100, 60, -15})}), Program{}}, 0.25);
  EXPECT_DOUBLE_EQ(seats[1].thickness_mm, 20);
  EXPECT_NEAR(seats[1].pilot_mm, 15, 1e-5);
}

TEST(OldHole, turned_over_y_it_lies_as_far_from_the_other_end) {
  const Job job = screwed(1, 1);
  const auto holes = holes::oldHoles(job);
  ASSERT_EQ(holes.size(), 1u);
  EXPECT_EQ(holes[0].left_by, 0);
  const SetupPoint2 at = holes::placeIn(job, holes[0], job.setups[1]);
  EXPECT_DOUBLE_EQ(at.x, 300 - 100);
  EXPECT_DOUBLE_EQ(at.y, 60);
}

TEST(OldHole, a_cut_on_the_back_meets_it_to_the_micrometre) {
  // The hole reaches to y = 62.1, the cutter 3 from its axis.
  const Job job = screwed(1, 1);
  const auto by = [&](double y) {
    return holes::holesInPath(job, std::vector<Program>{Program{}, programOf({feed({150, y, -3}, {250, y, -3})})});
  };
  ASSERT_EQ(by(65.099).size(), 1u);
  EXPECT_EQ(by(65.099)[0].program, 1);
  EXPECT_EQ(by(65.099)[0].hold_down, 0);
  EXPECT_TRUE(by(65.101).empty());
  EXPECT_TRUE(holes::holesInPath(job, std::vector<Program>{Program{}, programOf({feed({150, 60, 1}, {250, 60, 1})})})
                  .empty());  // above the stock
}

TEST(OldHole, while_the_screw_stands_and_where_one_stands_again_there_is_no_hole) {
  Job job = screwed(1, 1);
  const std::vector<Program> programs{programOf({feed({50, 60, -3}, {150, 60, -3})}),
                                      programOf({feed({150, 60, -3}, {250, 60, -3})})};
  EXPECT_EQ(holes::holesInPath(job, programs).size(), 1u);  // the back only
  HoldDown again = job.hold_downs[0];
  again.at_mm = {200, 60};
  job.hold_downs.push_back(again);
  job.setups[1].programs[0].hold_downs = {1};
  EXPECT_TRUE(holes::holesInPath(job, programs).empty());
}

TEST(OldHole, taken_out_between_two_programs_of_one_setup_it_is_a_hole_for_the_second) {
  Job job = screwed(2, 0);
  job.setups[0].programs[1].hold_downs.clear();
  const std::vector<Program> programs{Program{}, programOf({feed({50, 60, -3}, {150, 60, -3})})};
  ASSERT_EQ(holes::holesInPath(job, programs).size(), 1u);
  EXPECT_EQ(holes::holesInPath(job, programs)[0].left_by, 0);
}

}  // namespace
}  // namespace provecut
