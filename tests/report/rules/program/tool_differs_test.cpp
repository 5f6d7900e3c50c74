#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// Tool 1 of the scene has a diameter of 6 mm.
std::vector<Finding> commented(const char* text, bool with_change = true, bool with_job_file = true) {
  Scene s;
  if (!with_job_file) s.job().file.clear();
  s.event(EventKind::comment_tool);
  s.program().events.back().text = text;
  if (with_change) s.event(EventKind::tool_change, 1);
  s.feed({50, 50, -3});
  return s.findings(tool_differs_rule);
}

TEST(ToolDiffers, another_diameter_than_the_job_file) {
  const auto findings = commented("T1 D=3.175 CR=0. - flat end mill");
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].subject, "6 mm flat");
  EXPECT_NEAR(*findings[0].amount, 3.175, 1e-9);
  EXPECT_EQ(findings[0].message, "the program's comment gives tool 1 a diameter of 3.175 mm; the job file says 6 mm");
  EXPECT_EQ(commented("T1 D=3.175 CR=0. - flat end mill", true, false).at(0).message,
            "the program's comment gives tool 1 a diameter of 3.175 mm; --tool says 6 mm");
}

TEST(ToolDiffers, the_same_diameter_in_either_unit) {
  EXPECT_TRUE(commented("T1 D=6. CR=0. - flat end mill").empty());
  EXPECT_TRUE(commented("T1 D=0.2362 CR=0. - flat end mill").empty());  // 6 mm in inches
  EXPECT_TRUE(commented("T1 D=6.04 CR=0. - flat end mill").empty());
}

// The comments may list the tools of the whole job.
TEST(ToolDiffers, another_tool_of_the_list_is_not_meant) {
  Scene s;
  for (const char* text : {"T7 D=3.175 CR=0. - flat end mill", "T1 D=6 CR=0. - flat end mill"}) {
    s.event(EventKind::comment_tool);
    s.program().events.back().text = text;
  }
  s.event(EventKind::tool_change, 1);
  s.feed({50, 50, -3});
  EXPECT_TRUE(s.findings(tool_differs_rule).empty());
}

TEST(ToolDiffers, a_call_of_another_number_than_the_one_described) {
  const auto findings = commented("T7 D=6 CR=0. - flat end mill");
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].place.line, 1u);
  EXPECT_EQ(findings[0].message, "the program calls tool 1, but its comments describe tool 7");
  EXPECT_EQ(findings[0].help, "Check which bit belongs here. Then change the T word to T7, or correct the comment.");
}

TEST(ToolDiffers, of_a_tapered_bit_the_comment_may_give_the_tip_and_of_a_flat_one_not) {
  const auto tapered = [](const char* text) {
    Scene s;
    s.tool().shape = ToolShape::taper_ball;
    s.tool().taper_deg = 5;
    s.tool().tip_radius_mm = 0.5;
    s.event(EventKind::comment_tool);
    s.program().events.back().text = text;
    s.event(EventKind::tool_change, 1);
    s.feed({50, 50, -3});
    return s.findings(tool_differs_rule).size();
  };
  EXPECT_EQ(tapered("T1 D=1. CR=0.5 TAPER=5deg - tapered mill"), 0u);
  EXPECT_EQ(tapered("T1 D=6. CR=0.5 TAPER=5deg - tapered mill"), 0u);
  EXPECT_EQ(tapered("T1 D=2. CR=0.5 TAPER=5deg - tapered mill"), 1u);
  EXPECT_EQ(commented("T1 D=1. CR=0. - flat end mill").size(), 1u);
}

TEST(ToolDiffers, without_a_change_the_comment_speaks_of_what_is_in_the_spindle) {
  EXPECT_EQ(commented("T7 D=3.175 CR=0. - flat end mill", false).size(), 1u);
}

// "(MSG, Change tool bit to mill diameter 2.00000mm)", then T0 M6.
TEST(ToolDiffers, a_message_before_the_change_that_asks_for_another_diameter) {
  const auto findings = commented("MSG, Change tool bit to mill diameter 2.00000mm");
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message, "the program's comment gives tool 1 a diameter of 2 mm; the job file says 6 mm");
  EXPECT_TRUE(commented("MSG, Change tool bit to mill diameter 6.00000mm").empty());
  // Without a change it asks for nothing.
  EXPECT_TRUE(commented("The tool path is 2.5 mm off the line, tool diameter 2 mm assumed", false).empty());
}

TEST(ToolDiffers, another_kind_of_bit) {
  for (const char* text : {"TOOL 1: 60 DEG V-BIT", "6mm 90 degree V bit", "T1 6mm ball nose"}) {
    const auto findings = commented(text);
    ASSERT_EQ(findings.size(), 1u) << text;
    EXPECT_FALSE(findings[0].amount) << text;
  }
  EXPECT_EQ(commented("TOOL 1: 60 DEG V-BIT").at(0).message,
            "the program's comment calls tool 1 a vee bit; the job file says a flat bit");
}

TEST(ToolDiffers, words_that_say_what_a_bit_is_for_or_fit_it_as_well_are_no_other_kind) {
  for (const char* text : {"T1 6mm end mill for engraving", "T1 flat 6mm - drill holes", "T1 6mm surfacing",
                           "T1 6mm bull nose end mill", "T1 6mm chamfer pass", "Tool 1 - Drill 6 mm"})
    EXPECT_TRUE(commented(text).empty()) << text;
}

}  // namespace
}  // namespace provecut
