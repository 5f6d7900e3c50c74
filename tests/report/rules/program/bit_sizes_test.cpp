#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// Two holes with one tool, in stock of 18 mm; `between` comes between them.
std::vector<Finding> sized(const char* text, std::optional<EventKind> between = {}, double z = -18.5) {
  Scene s;
  s.event(EventKind::comment_tool);
  s.program().events.back().text = text;
  s.event(EventKind::tool_change, 1);
  s.rapid({50, 50, 5});
  s.feed({50, 50, z});
  s.rapid({50, 50, 5});
  if (between) s.event(*between, 2);
  s.rapid({60, 50, 5});
  s.feed({60, 50, z});
  return s.findings(bit_sizes_rule);
}

TEST(BitSizes, six_sizes_and_one_tool_without_a_stop) {
  const auto findings = sized("This file uses 6 drill bit sizes.");
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(*findings[0].amount, 6);
  EXPECT_EQ(findings[0].message,
            "the comment counts 6 bit sizes, but the program calls one tool and never stops: all holes get one size");
  EXPECT_EQ(sized("3 different tool diameters").size(), 1u);
}

TEST(BitSizes, a_stop_or_a_change_between_the_holes_is_the_way_to_do_it) {
  for (const EventKind kind : {EventKind::stop, EventKind::optional_stop, EventKind::tool_change})
    EXPECT_TRUE(sized("This file uses 6 drill bit sizes.", kind).empty());
}

TEST(BitSizes, marks_for_the_drill_have_no_size) {
  EXPECT_TRUE(sized("This file uses 6 drill bit sizes.", {}, -0.2).empty());
}

TEST(BitSizes, other_numbers_count_no_sizes) {
  for (const char* text : {"This file uses 1 drill bit size.", "6 mm drill", "uses 6 drills", "tool 6 of all sizes",
                           "drill 1.2 mm, hole sizes as drawn", "6 mm bit sizes"})
    EXPECT_TRUE(sized(text).empty()) << text;
}

}  // namespace
}  // namespace provecut
