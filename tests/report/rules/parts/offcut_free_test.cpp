#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(OffcutFree, a_disc_left_in_a_hole_is_an_offcut) {
  Scene s;
  s.feed({10, 10, -18.2});
  Piece p;
  p.move = s.lastIndex();
  p.plan_area_mm2 = 50.3;  // a disc of 8 mm
  p.bounds.add(WorkPoint{46, 46, -18});
  p.bounds.add(WorkPoint{54, 54, 0});
  p.free = true;
  s.programRun().pieces.push_back(p);
  const auto findings = s.findings(offcut_free_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 50.3);
  EXPECT_EQ(findings[0].message, "this move cuts an 8 × 8 × 18 mm offcut loose; nothing holds it");
  EXPECT_TRUE(s.findings(part_free_rule).empty());
}

TEST(OffcutFree, one_held_by_a_tab_is_not_free) {
  Scene s;
  s.feed({10, 10, -18.2});
  Piece p;
  p.move = s.lastIndex();
  p.plan_area_mm2 = 50.3;
  p.tabs.push_back({});
  s.programRun().pieces.push_back(p);
  EXPECT_TRUE(s.findings(offcut_free_rule).empty());
}

}  // namespace
}  // namespace provecut
