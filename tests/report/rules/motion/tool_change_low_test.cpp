#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(ToolChangeLow, below_the_top_of_a_clamp) {
  Scene s;
  s.addHoldDown(clamp("clamp N", {100, 95}, {60, 20}, 15));
  s.rapid({50, 50, 5});
  s.event(EventKind::tool_change, 2);
  s.rapid({50, 50, 30});
  const auto findings = s.findings(tool_change_low_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].subject, "clamp N");
  EXPECT_DOUBLE_EQ(*findings[0].amount, 10);
  EXPECT_EQ(findings[0].message, "tool change with the tip 10 mm below the top of clamp N");
  EXPECT_EQ(findings[0].help, "Retract to Z 18 mm first.");
}

TEST(ToolChangeLow, level_with_the_top_is_not_below_it) {
  Scene s;
  s.addHoldDown(clamp("clamp N", {100, 95}, {60, 20}, 15));
  s.rapid({50, 50, 15});
  s.event(EventKind::stop);
  EXPECT_TRUE(s.findings(tool_change_low_rule).empty());
  s.rapid({50, 50, 14.99});
  s.event(EventKind::stop);
  ASSERT_EQ(s.findings(tool_change_low_rule).size(), 1u);
  EXPECT_EQ(s.findings(tool_change_low_rule)[0].message, "program stop with the tip 0.01 mm below the top of clamp N");
}

TEST(ToolChangeLow, with_nothing_on_the_stock_its_own_top_counts) {
  Scene s;
  s.feed({50, 50, -3});
  s.event(EventKind::stop);
  ASSERT_EQ(s.findings(tool_change_low_rule).size(), 1u);
  EXPECT_EQ(s.findings(tool_change_low_rule)[0].message, "program stop with the tip 3 mm below the top of the stock");
}

TEST(ToolChangeLow, before_the_first_move_nothing_is_known) {
  Scene s;
  s.event(EventKind::tool_change, 1);
  s.rapid({50, 50, -5});
  EXPECT_TRUE(s.findings(tool_change_low_rule).empty());
}

TEST(ToolChangeLow, the_new_bit_goes_down_to_the_stock_before_its_length_is_set) {
  Scene s;
  s.rapid({50, 50, 30});
  s.event(EventKind::tool_change, 2);
  s.feed({50, 50, 0});
  s.event(EventKind::tool_change, 2);
  s.rapid({50, 50, 1});
  const auto findings = s.findings(tool_change_low_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].place.line, 2u);
  EXPECT_EQ(findings[0].message,
            "the new bit goes down to the stock before its length is set, and M6 is called again there");
}

TEST(ToolChangeLow, a_change_at_a_height_and_a_stop_on_the_stock_are_no_second_change) {
  Scene high;
  high.rapid({50, 50, 30});
  high.event(EventKind::tool_change, 2);
  high.feed({50, 50, 5});
  high.event(EventKind::tool_change, 2);
  EXPECT_TRUE(high.findings(tool_change_low_rule).empty());
  Scene stop;
  stop.rapid({50, 50, 30});
  stop.event(EventKind::tool_change, 2);
  stop.feed({50, 50, 0});
  stop.event(EventKind::stop);
  EXPECT_TRUE(stop.findings(tool_change_low_rule).empty());
}

}  // namespace
}  // namespace provecut
