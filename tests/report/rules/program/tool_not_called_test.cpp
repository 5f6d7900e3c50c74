#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// Tool 1 of the scene is the 6 mm flat; tool 5 is a roundover.
struct Strip : Scene {
  Strip() {
    Tool t = tool();
    t.number = 5;
    t.name = "R6 roundover";
    t.shape = ToolShape::form;
    t.diameter_mm = 20;
    job().tools.push_back(t);
    event(EventKind::tool_change, 1);
    event(EventKind::spindle_start, 16000);
    rapid({10, 10, 5});
    feed({100, 10, -3});
    rapid({100, 10, 30});
  }
  void comment(const char* text) {
    event(EventKind::comment_tool);
    program().events.back().text = text;
  }
  // M5, the comment, M3, and the next cut.
  void restart(const char* text) {
    event(EventKind::spindle_stop);
    comment(text);
    event(EventKind::spindle_start, 14000);
    rapid({10, 90, 5});
    feed({100, 90, -8});
  }
  std::vector<Finding> told() { return findings(tool_not_called_rule); }
};

TEST(ToolNotCalled, a_lost_tool_change_whose_comment_and_restart_remain) {
  Strip s;
  s.restart("ROUNDOVER R6");
  const auto findings = s.told();
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(
      findings[0].message,
      "the comment names R6 roundover (tool 5), but no program calls it; the cuts that follow run with 6 mm flat");
  EXPECT_EQ(findings[0].help, "Add T5 M6 before them, or correct the comment.");
}

TEST(ToolNotCalled, by_number_or_by_shape_and_diameter) {
  Strip numbered;
  numbered.restart("T5 D=20 form mill");
  EXPECT_EQ(numbered.told().size(), 1u);
  Strip described;
  described.job().tools.back().name.clear();
  described.job().tools.back().shape = ToolShape::ball;
  described.restart("ball nose 20 mm");
  EXPECT_EQ(described.told().size(), 1u);
}

TEST(ToolNotCalled, a_stop_in_place_of_the_spindles_is_a_pause_too) {
  Strip s;
  s.event(EventKind::stop);
  s.comment("ROUNDOVER R6");
  s.rapid({10, 90, 5});
  s.feed({100, 90, -8});
  EXPECT_EQ(s.told().size(), 1u);
}

TEST(ToolNotCalled, a_bit_that_the_job_file_lacks) {
  Strip s;
  s.job().tools.pop_back();
  s.restart("ROUNDOVER R6");
  ASSERT_EQ(s.told().size(), 1u);
  EXPECT_EQ(s.told()[0].help,
            "Add its T and M6 here. If the job file lacks the bit, add it there too. Or correct the comment.");
}

TEST(ToolNotCalled, one_that_is_called_is_none) {
  Strip s;
  s.event(EventKind::spindle_stop);
  s.comment("ROUNDOVER R6");
  s.event(EventKind::tool_change, 5);
  s.event(EventKind::spindle_start, 14000);
  s.rapid({10, 90, 5}).tool = 5;
  s.feed({100, 90, -8}).tool = 5;
  EXPECT_TRUE(s.told().empty());
}

TEST(ToolNotCalled, a_tool_of_the_shops_list_that_nothing_names_is_none) {
  Strip s;
  s.restart("SECOND PASS");
  EXPECT_TRUE(s.told().empty());
}

TEST(ToolNotCalled, a_comment_about_the_bit_in_the_spindle_is_none) {
  Strip s;
  s.restart("T1 6 mm flat");
  EXPECT_TRUE(s.told().empty());
}

// The list at a program's head may be the whole shop's.
TEST(ToolNotCalled, without_a_pause_the_comment_may_be_a_list) {
  Strip s;
  s.comment("ROUNDOVER R6");
  s.feed({100, 90, -8});
  EXPECT_TRUE(s.told().empty());
}

TEST(ToolNotCalled, the_bit_of_its_comment_is_no_other_diameter_of_the_one_before) {
  Strip s;
  s.job().tools.back().shape = ToolShape::flat;
  s.restart("change to 20mm end mill");
  EXPECT_EQ(s.told().size(), 1u);
  EXPECT_TRUE(s.findings(tool_differs_rule).empty());
  s.comment("T1 20mm end mill");
  EXPECT_EQ(s.findings(tool_differs_rule).size(), 1u);
}

}  // namespace
}  // namespace provecut
