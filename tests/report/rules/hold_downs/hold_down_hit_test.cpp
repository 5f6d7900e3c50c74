#include <gtest/gtest.h>

#include "report/base/wording.h"
#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

Contact contact(const Scene& s, int hold_down, double overlap_mm, WorkPoint entry) {
  Contact c;
  c.move = s.lastIndex();
  c.hold_down = hold_down;
  c.overlap_mm = overlap_mm;
  c.entry = entry;
  return c;
}

TEST(HoldDownHit, a_rapid_into_a_screw_head_is_said_with_its_depth_and_what_to_do) {
  Scene s;
  const int sw = s.addHoldDown(screw("screw SW", {12, 12}, 9, 4.5));
  s.rapid({40, 12, 1.5});
  s.rapid({12.5, 11.8, 1.5});
  s.programRun().contacts.push_back(contact(s, sw, 2.14, {19.5, 12, 1.5}));
  s.run().clear_spots.push_back({sw, 0, {8.6, 13.5}});
  const auto findings = s.findings(hold_down_hit_rule);
  ASSERT_EQ(findings.size(), 1u);
  const Finding& f = findings[0];
  EXPECT_EQ(f.level, Level::stop);
  EXPECT_EQ(f.subject, "screw SW");
  EXPECT_EQ(f.place.line, 2u);
  EXPECT_EQ(f.moves, 1u);
  EXPECT_DOUBLE_EQ(*f.amount, 2.14);
  EXPECT_EQ(f.unit, "mm");
  EXPECT_EQ(*f.at, (WorkPoint{19.5, 12, 1.5}));
  EXPECT_EQ(f.message,
            "the cutter runs 2.14 mm into screw SW on a rapid with the tip at Z 1.5 mm; screw SW reaches up "
            "to Z 4.5 mm");
  // 4.5 + 3 mm clearance is Z 7.5.
  EXPECT_EQ(
      f.help,
      "Retract to Z 7.5 mm or higher before this move. Or move screw SW 3.4 mm to the left and 1.5 mm to the back, "
      "to X 8.6 Y 13.5. Or remove it before this program and hold the stock somewhere else.");
  ASSERT_EQ(f.related.size(), 1u);
  EXPECT_EQ(f.related[0].file, "job.toml");
  EXPECT_EQ(f.related[0].place.line, 60u);
}

// Stickout 35: a shoe down to 45 below the nut's face is 10 lower than the tip.
TEST(HoldDownHit, a_stop_to_move_a_clamp_is_asked_about_and_the_hit_stays_a_stop) {
  Scene s;
  const int right = s.addHoldDown(screw("clamp R", {150, 50}, 9, 4.5));
  s.text() = "G0 X40 Y50 Z1.5\n(MOVE CLAMP FROM RIGHT TO LEFT)\nM0\nG0 X150 Y50 Z1.5\n";
  s.rapid({40, 50, 1.5});
  s.rapid({150, 50, 1.5});
  s.programRun().contacts.push_back(contact(s, right, 2, {142, 50, 1.5}));
  EXPECT_FALSE(s.findings(hold_down_hit_rule)[0].help.starts_with("Do you move"));
  Event stop;
  stop.kind = EventKind::stop;
  stop.before_motion = 1;
  stop.place = {3, 1, 3};
  s.program().events.push_back(stop);
  EXPECT_EQ(s.findings(hold_down_hit_rule)[0].level, Level::stop);
  EXPECT_TRUE(
      s.findings(hold_down_hit_rule)[0].help.starts_with("Do you move clamp R at the stop on line 3? Then split the "
                                                         "program there and list the hold-downs of each half. "));
}

TEST(HoldDownHit, a_dust_shoe_below_the_tip_is_lifted_over_too) {
  Scene s;
  s.job().spindle_attachments.push_back({"dust shoe", 60, -45, 0});
  const int sw = s.addHoldDown(screw("screw SW", {12, 12}, 9, 4.5));
  s.rapid({40, 12, 10});
  s.rapid({12.5, 11.8, 10});
  s.programRun().contacts.push_back(contact(s, sw, 2.14, {19.5, 12, 10}));
  const auto findings = s.findings(hold_down_hit_rule);
  EXPECT_EQ(findings.at(0).help.find("Retract to Z 17.5 mm or higher before this move."), 0u) << findings[0].help;
}

// A G0 would end the cycle, and the next hole with it.
TEST(HoldDownHit, in_a_canned_cycle_r_is_to_be_raised) {
  Scene s;
  const int sw = s.addHoldDown(screw("screw SW", {12, 12}, 9, 4.5));
  s.rapid({40, 12, 1.5}).flags |= motion_in_cycle;
  s.rapid({12.5, 11.8, 1.5}).flags |= motion_in_cycle;
  s.programRun().contacts.push_back(contact(s, sw, 2.14, {19.5, 12, 1.5}));
  s.rapid({80, 12, 1.5}).flags |= motion_in_cycle;
  s.programRun().contacts.push_back(contact(s, sw, 2.14, {19.5, 12, 1.5}));
  const auto findings = s.findings(hold_down_hit_rule);
  EXPECT_EQ(findings.at(0).help.find("Raise this cycle's R to 7.5 mm."), 0u) << findings[0].help;
}

// Lifted over the head, it would come down into it.
TEST(HoldDownHit, a_rapid_that_ends_at_the_hold_down_is_not_told_to_go_over_it) {
  Scene s;
  const int sw = s.addHoldDown(screw("screw SW", {12, 12}, 9, 4.5));
  s.rapid({40, 12, 20});
  s.rapid({12.5, 11.8, 1.5});
  s.programRun().contacts.push_back(contact(s, sw, 2.14, {19.5, 12, 1.5}));
  s.feed({12.5, 40, 1.5});
  const auto findings = s.findings(hold_down_hit_rule);
  EXPECT_EQ(findings.at(0).help.find("Z 7.5"), std::string::npos) << findings[0].help;
}

TEST(HoldDownHit, moves_into_one_hold_down_are_one_finding_and_two_hold_downs_are_two) {
  Scene s;
  const int sw = s.addHoldDown(screw("screw SW", {12, 12}, 9, 4.5));
  const int north = s.addHoldDown(clamp("clamp N", {100, 95}, {60, 20}, 15));
  for (const double overlap : {0.5, 2.5, 1.0}) {
    s.feed({20 - overlap, 12, -3});
    s.programRun().contacts.push_back(contact(s, sw, overlap, {19, 12, -3}));
  }
  s.feed({100, 90, -3});
  s.programRun().contacts.push_back(contact(s, north, 8, {100, 82, -3}));
  const auto findings = s.findings(hold_down_hit_rule);
  ASSERT_EQ(findings.size(), 2u);
  EXPECT_EQ(findings[0].place.line, 1u);
  EXPECT_EQ(findings[0].last_line, 3u);
  EXPECT_EQ(findings[0].moves, 3u);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 2.5);
  // The deepest one is not on the first line, so its line is named.
  ASSERT_FALSE(findings[0].related.empty());
  EXPECT_EQ(findings[0].related.front().place.line, 2u);
  EXPECT_EQ(findings[0].related.front().message, "the worst: 2.5 mm");
  EXPECT_EQ(findings[1].subject, "clamp N");
  // No way out is known, and a feed move cannot be lifted.
  EXPECT_EQ(findings[1].help, "Remove clamp N before this program and hold the stock somewhere else.");
}

TEST(HoldDownHit, one_move_with_two_parts_of_the_tool_is_one_move) {
  Scene s;
  const int north = s.addHoldDown(clamp("clamp N", {100, 95}, {60, 20}, 40));
  s.feed({100, 78, -3});
  Contact cutter = contact(s, north, 1, {100, 82, -3});
  Contact nut = cutter;
  nut.part = ToolPart::collet_nut;
  nut.overlap_mm = 10;
  s.programRun().contacts = {cutter, nut};
  const auto findings = s.findings(hold_down_hit_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].moves, 1u);
  EXPECT_EQ(findings[0].message,
            "the cutter and the collet nut run up to 10 mm into clamp N on a feed move with the tip at Z -3 mm; "
            "clamp N reaches up to Z 40 mm");
  // Only where nothing but the nut or the spindle hits would more stickout help.
  EXPECT_EQ(findings[0].help.find("stickout"), std::string::npos) << findings[0].help;
  s.programRun().contacts = {nut};
  EXPECT_EQ(s.findings(hold_down_hit_rule).at(0).help,
            "Give " + toolText(s.job(), s.last().tool) +
                " more stickout and set Z zero again. Or remove clamp N before this program and hold the stock "
                "somewhere else.");
}

TEST(HoldDownHit, a_bare_touch_is_a_hit) {
  Scene s;
  const int sw = s.addHoldDown(screw("screw SW", {12, 12}, 9, 4.5));
  s.feed({19.5, 12, -3});
  s.programRun().contacts.push_back(contact(s, sw, 0, {19.5, 12, -3}));
  const auto findings = s.findings(hold_down_hit_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message,
            "the cutter touches screw SW on a feed move with the tip at Z -3 mm; screw SW "
            "reaches up to Z 4.5 mm");
}

TEST(HoldDownHit, a_micrometre_is_not_shown_as_nothing) {
  Scene s;
  const int sw = s.addHoldDown(screw("screw SW", {12, 12}, 9, 4.5));
  s.arc({19, 12, -3}, {12, 12}, Plane::xy, true);
  s.programRun().contacts.push_back(contact(s, sw, 0.001, {19.499, 12, -3}));
  const auto findings = s.findings(hold_down_hit_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(
      findings[0].message,
      "the cutter runs 0.001 mm into screw SW on an arc with the tip at Z -3 mm; screw SW reaches up to Z 4.5 mm");
}

TEST(HoldDownHit, nothing_is_said_where_nothing_is_met) {
  Scene s;
  s.addHoldDown(screw("screw SW", {12, 12}, 9, 4.5));
  s.feed({60, 60, -3});
  EXPECT_TRUE(s.findings(hold_down_hit_rule).empty());
}

}  // namespace
}  // namespace provecut
