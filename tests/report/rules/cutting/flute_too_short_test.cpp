#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(FluteTooShort, a_shank_in_the_wood_is_named_and_is_no_nut) {
  Scene s;
  s.feed({50, 50, -15});
  BodyInStock b;
  b.move = s.lastIndex();
  b.part = ToolPart::shank;
  b.depth_mm = 3;
  b.at = {50, 50, -15};
  s.programRun().bodies_in_stock.push_back(b);
  const auto findings = s.findings(flute_too_short_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::stop);
  EXPECT_EQ(findings[0].subject, "6 mm flat");
  EXPECT_DOUBLE_EQ(*findings[0].amount, 3);
  EXPECT_TRUE(s.findings(nut_hit_rule).empty());
}

TEST(FluteTooShort, nothing_is_said_where_only_the_nut_is_in_the_wood) {
  Scene s;
  s.feed({50, 50, -15});
  BodyInStock b;
  b.move = s.lastIndex();
  b.part = ToolPart::collet_nut;
  b.depth_mm = 3;
  s.programRun().bodies_in_stock.push_back(b);
  EXPECT_TRUE(s.findings(flute_too_short_rule).empty());
}

}  // namespace
}  // namespace provecut
