#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

struct Board : Scene {
  Board() { job().spoilboard.allowed_cut_mm = 0.3; }
};

TEST(SpoilboardCut, deeper_than_allowed_is_said_with_both_numbers) {
  Board s;
  s.feed({50, 50, -18.2});
  s.feed({50, 50, -19});
  s.feed({90, 50, -18.5});
  const auto findings = s.findings(spoilboard_cut_rule);
  ASSERT_EQ(findings.size(), 1u);
  const Finding& f = findings[0];
  EXPECT_EQ(f.level, Level::look);
  EXPECT_EQ(f.place.line, 2u);
  EXPECT_EQ(f.moves, 2u);
  EXPECT_NEAR(*f.amount, 1.0, 1e-9);
  EXPECT_EQ(f.message, "cuts up to 1 mm into the spoilboard (maximum 0.3 mm)");
  EXPECT_EQ(f.help, "Cut no deeper than Z -18.3 mm. Or set allowed_cut to 1 mm if the board may be cut that deep.");
}

TEST(SpoilboardCut, nobody_is_told_to_allow_cuts_through_a_quarter_of_the_board) {
  Board s;
  s.job().spoilboard.thickness_mm = 18;
  s.feed({50, 50, -22.5});
  EXPECT_NE(s.findings(spoilboard_cut_rule).at(0).help.find("allowed_cut to 4.5 mm"), std::string::npos);
  s.feed({50, 50, -22.6});
  EXPECT_EQ(s.findings(spoilboard_cut_rule).at(0).help, "Cut no deeper than Z -18.3 mm.");
}

TEST(SpoilboardCut, exactly_the_allowed_depth_is_fine) {
  Board s;
  s.feed({50, 50, -18.3});
  EXPECT_TRUE(s.findings(spoilboard_cut_rule).empty());
}

TEST(SpoilboardCut, two_micrometres_more_are_not) {
  Board s;
  s.feed({50, 50, -18.302});
  const auto findings = s.findings(spoilboard_cut_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message, "cuts 0.302 mm into the spoilboard (maximum 0.3 mm)");
}

TEST(SpoilboardCut, a_lifted_stock_leaves_room_below) {
  Board s;
  s.setup().lift_mm = 6;
  s.feed({50, 50, -24.3});
  EXPECT_TRUE(s.findings(spoilboard_cut_rule).empty());
  s.feed({50, 50, -24.4});
  EXPECT_EQ(s.findings(spoilboard_cut_rule).size(), 1u);
}

TEST(SpoilboardCut, a_start_that_nobody_knows_is_not_held_against_the_program) {
  Board s;
  Motion& first = s.rapid({0, 0, 5});
  first.start = {0, 0, -50};
  first.flags = motion_start_unknown;
  EXPECT_TRUE(s.findings(spoilboard_cut_rule).empty());
}

// An 8 mm pin at 12, 60, for the stock's second side; its hole goes 3 mm into the board.
struct PinBoard : Board {
  PinBoard() {
    HoldDown pin = screw("pin", {12, 60}, 8, 5);
    pin.kind = HoldDownKind::pin;
    addHoldDown(pin);
    tool().diameter_mm = 8;
  }
  std::size_t drilledAt(double x, double y) {
    program(0).motions.clear();
    rapid({x, y, 20});
    feed({x, y, -21});
    rapid({x, y, 20});
    return findings(spoilboard_cut_rule).size();
  }
};

TEST(SpoilboardCut, a_hole_for_a_pin_of_the_job_is_meant) {
  PinBoard s;
  EXPECT_EQ(s.drilledAt(12, 60), 0u);
  EXPECT_EQ(s.drilledAt(12.2, 60), 0u);
}

TEST(SpoilboardCut, a_hole_beside_the_pin_or_wider_than_it_is_told) {
  PinBoard s;
  EXPECT_EQ(s.drilledAt(13, 60), 1u);
  EXPECT_EQ(s.drilledAt(100, 60), 1u);
  s.tool().diameter_mm = 10;
  EXPECT_EQ(s.drilledAt(12, 60), 1u);
}

TEST(SpoilboardCut, a_slot_that_begins_in_a_pin_hole_is_told) {
  PinBoard s;
  s.rapid({12, 60, 20});
  s.feed({12, 60, -21});
  s.feed({40, 60, -21});
  EXPECT_EQ(s.findings(spoilboard_cut_rule).size(), 1u);
}

// A 6 mm bit round the pin's middle, 1 mm from it: 8 mm wide.
TEST(SpoilboardCut, a_pin_hole_that_is_milled_round_is_meant_and_a_wider_one_is_not) {
  PinBoard s;
  s.tool().diameter_mm = 6;
  s.rapid({13, 60, 20});
  s.feed({13, 60, -21});
  s.arc({13, 60, -21}, {12, 60}, Plane::xy, true);
  EXPECT_TRUE(s.findings(spoilboard_cut_rule).empty());
  s.arc({13, 60, -21}, {11, 60}, Plane::xy, true);
  EXPECT_EQ(s.findings(spoilboard_cut_rule).size(), 1u);
}

}  // namespace
}  // namespace provecut
