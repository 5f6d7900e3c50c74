#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// A cut with tool 1 on line 1, then tool 2 is called for on line 2 and cuts on line 3.
struct TwoTools : Scene {
  explicit TwoTools(std::string change_line) {
    feed({50, 50, -3});
    event(EventKind::tool_change, 2);
    text() = "G1 X50 Y50 Z-3\n" + std::move(change_line) + "\nG1 X90\n";
  }
  void cutOn() { feed({90, 50, -3}).tool = 2; }
};

TEST(ToolChangeUnstopped, a_t_word_alone_stops_no_machine) {
  TwoTools s("T2");
  s.cutOn();
  const auto findings = s.findings(tool_change_unstopped_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].place.line, 2u);
  EXPECT_EQ(findings[0].subject, "tool 2");
}

TEST(ToolChangeUnstopped, m6_changes_the_tool) {
  TwoTools s("M6 T2");
  s.cutOn();
  EXPECT_TRUE(s.findings(tool_change_unstopped_rule).empty());
}

TEST(ToolChangeUnstopped, a_program_stop_gives_time_to_change) {
  TwoTools s("T2");
  s.event(EventKind::stop);
  s.cutOn();
  EXPECT_TRUE(s.findings(tool_change_unstopped_rule).empty());
}

TEST(ToolChangeUnstopped, the_first_tool_is_in_the_spindle_already) {
  Scene s;
  s.text() = "T1\nG1 X50\n";
  s.event(EventKind::tool_change, 1);
  s.feed({50, 50, -3});
  EXPECT_TRUE(s.findings(tool_change_unstopped_rule).empty());
}

}  // namespace
}  // namespace provecut
