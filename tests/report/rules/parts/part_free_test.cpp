#include <gtest/gtest.h>

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
            "a 96 × 45 × 18 mm part is loose when this program starts: clamp middle held it until then");
  EXPECT_EQ(findings[0].help,
            "Keep clamp middle in this program's `hold_downs`, or take the part out before this program.");
  ASSERT_EQ(findings[0].related.size(), 1u);
  EXPECT_EQ(findings[0].related[0].file, "job.toml");
}

}  // namespace
}  // namespace provecut
