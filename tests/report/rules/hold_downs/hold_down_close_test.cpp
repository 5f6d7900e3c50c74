#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

NearPass pass(const Scene& s, int hold_down, double clearance_mm) {
  NearPass n;
  n.move = s.lastIndex();
  n.hold_down = hold_down;
  n.clearance_mm = clearance_mm;
  n.at = {20, 12, -3};
  return n;
}

struct Screwed : Scene {
  int sw = addHoldDown(screw("screw SW", {12, 12}, 9, 4.5));
  Screwed() { job().limits.clearance_mm = 3; }
};

TEST(HoldDownClose, the_nearest_of_many_moves_counts) {
  Screwed s;
  for (const double clearance : {2.5, 0.95, 2.0}) {
    s.feed({30, 12, -3});
    s.programRun().near_passes.push_back(pass(s, s.sw, clearance));
  }
  s.run().clear_spots.push_back({s.sw, 0, {9.9, 12}});
  const auto findings = s.findings(hold_down_close_rule);
  ASSERT_EQ(findings.size(), 1u);
  const Finding& f = findings[0];
  EXPECT_EQ(f.level, Level::look);
  EXPECT_EQ(f.moves, 3u);
  EXPECT_DOUBLE_EQ(*f.amount, 0.95);
  EXPECT_EQ(f.unit, "mm");
  EXPECT_EQ(f.message, "the cutter clears screw SW by only 0.95 mm (minimum 3 mm)");
  EXPECT_EQ(f.help,
            "Move screw SW 2.1 mm to the left, to X 9.9 Y 12. Or remove it before this program and hold the stock "
            "somewhere else.");
  // Under it a hole of 9 mm is bored in the stock of 18 mm.
  s.run().screw_seats.push_back({0, s.sw, 18, 18, 9});
  EXPECT_EQ(
      s.findings(hold_down_close_rule).at(0).help,
      "Move screw SW 2.1 mm to the left, to X 9.9 Y 12 (its pilot hole has to move too). Or remove it before this "
      "program and hold the stock somewhere else.");
}

TEST(HoldDownClose, the_wanted_clearance_itself_is_enough) {
  Screwed s;
  s.feed({30, 12, -3});
  s.programRun().near_passes.push_back(pass(s, s.sw, 3.0));
  s.programRun().near_passes.push_back(pass(s, s.sw, 3.0 - 1e-9));  // rounding
  EXPECT_TRUE(s.findings(hold_down_close_rule).empty());
}

TEST(HoldDownClose, a_micrometre_less_than_wanted_is_close_and_the_two_numbers_differ) {
  Screwed s;
  s.feed({30, 12, -3});
  s.programRun().near_passes.push_back(pass(s, s.sw, 2.999));
  const auto findings = s.findings(hold_down_close_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message, "the cutter clears screw SW by only 2.999 mm (minimum 3 mm)");
}

// One screw in the way is one finding, and the other screw another.
TEST(HoldDownClose, a_screw_that_the_program_hits_is_not_told_as_close_too_but_its_neighbour_is) {
  Screwed s;
  const int se = s.addHoldDown(screw("screw SE", {180, 12}, 9, 4.5));
  s.feed({30, 12, -3});
  s.programRun().near_passes.push_back(pass(s, s.sw, 0.95));
  s.programRun().near_passes.push_back(pass(s, se, 1.2));
  s.feed({12, 12, -3});
  Contact hit;
  hit.move = s.lastIndex();
  hit.hold_down = s.sw;
  hit.overlap_mm = 2;
  s.programRun().contacts.push_back(hit);
  const auto close = s.findings(hold_down_close_rule);
  ASSERT_EQ(close.size(), 1u);
  EXPECT_EQ(close[0].subject, "screw SE");
  // The near pass is told with the hit.
  const auto hits = s.findings(hold_down_hit_rule);
  ASSERT_EQ(hits.size(), 1u);
  ASSERT_EQ(hits[0].related.size(), 2u);
  EXPECT_EQ(hits[0].related[1].message, "the cutter also clears screw SW by only 0.95 mm here (minimum 3 mm)");
  EXPECT_EQ(hits[0].related[1].place.line, 1u);
}

TEST(HoldDownClose, a_screw_that_another_program_hits_is_close_in_this_one) {
  Screwed s;
  s.feed({30, 12, -3});
  s.programRun().near_passes.push_back(pass(s, s.sw, 0.95));
  s.addProgram("b.nc");
  s.feed({12, 12, -3});
  Contact hit;
  hit.move = s.lastIndex();
  hit.hold_down = s.sw;
  s.programRun(1).contacts.push_back(hit);
  ASSERT_EQ(s.findings(hold_down_close_rule).size(), 1u);
  EXPECT_EQ(s.findings(hold_down_close_rule)[0].program_order, 0);
}

TEST(HoldDownClose, a_pin_is_not_to_be_left_out) {
  Scene s;
  HoldDown h = screw("pin W", {12, 12}, 8, 5);
  h.kind = HoldDownKind::pin;
  const int pin = s.addHoldDown(h);
  s.feed({30, 12, -3});
  s.programRun().near_passes.push_back(pass(s, pin, 1));
  const auto findings = s.findings(hold_down_close_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].help, "Keep this program's moves clear of pin W, or use a shorter pin.");
}

TEST(HoldDownClose, a_job_in_inches_is_answered_in_inches) {
  Screwed s;
  s.job().inches = true;
  s.job().limits.clearance_mm = 3.175;
  s.feed({30, 12, -3});
  s.programRun().near_passes.push_back(pass(s, s.sw, 2.54));
  const auto findings = s.findings(hold_down_close_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message, "the cutter clears screw SW by only 0.1 in (minimum 0.125 in)");
  EXPECT_DOUBLE_EQ(*findings[0].amount, 2.54);  // amounts stay in mm
}

}  // namespace
}  // namespace provecut
