#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(ToolUnknown, a_number_that_the_job_lacks_is_marked_where_it_is_called_for) {
  Scene s;
  s.rapid({50, 50, 5});
  s.event(EventKind::tool_change, 5);
  s.rapid({60, 50, 5}).tool = 5;
  s.feed({60, 50, -3}).tool = 5;
  const auto findings = s.findings(tool_unknown_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::stop);
  EXPECT_EQ(findings[0].subject, "tool 5");
  EXPECT_EQ(findings[0].place.line, 2u);
  EXPECT_EQ(findings[0].moves, 2u);
  EXPECT_EQ(findings[0].help, "Add a [[tool]] with number = 5 to the job file, or change the program's T word.");
}

TEST(ToolUnknown, with_no_tool_given_rapids_are_fine_and_cuts_are_not) {
  Scene s;
  s.rapid({50, 50, 5}).tool = 0;
  EXPECT_TRUE(s.findings(tool_unknown_rule).empty());
  s.feed({50, 50, -3}).tool = 0;
  const auto findings = s.findings(tool_unknown_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].subject, "");
  EXPECT_EQ(findings[0].place.line, 2u);
  ASSERT_EQ(findings[0].related.size(), 1u);
  EXPECT_EQ(findings[0].related[0].file, "job.toml");
}

TEST(ToolUnknown, where_the_comments_describe_another_number_that_one_is_asked_about) {
  Scene s;
  s.event(EventKind::comment_tool);
  s.program().events.back().text = "T1 D=6 CR=0. - flat end mill";
  s.event(EventKind::tool_change, 3);
  s.feed({60, 50, -3}).tool = 3;
  const auto findings = s.findings(tool_unknown_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_TRUE(findings[0].help.ends_with("Its comments describe tool 1: is that one meant?")) << findings[0].help;
  EXPECT_TRUE(s.findings(tool_differs_rule).empty());  // told once
}

TEST(ToolUnknown, a_tool_of_the_job_is_known) {
  Scene s;
  s.feed({50, 50, -3});
  EXPECT_TRUE(s.findings(tool_unknown_rule).empty());
}

TEST(ToolUnknown, without_a_job_file_the_tool_is_to_be_given_on_the_command_line) {
  Scene s;
  s.job().file.clear();
  s.feed({50, 50, -3}).tool = 5;
  const auto findings = s.findings(tool_unknown_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message, "tool 5 is not among the tools given, so none of its moves were checked");
  EXPECT_EQ(findings[0].help, "Add --tool 5=SHAPE,DIAMETER, for example --tool 5=flat,6mm.");
}

}  // namespace
}  // namespace provecut
