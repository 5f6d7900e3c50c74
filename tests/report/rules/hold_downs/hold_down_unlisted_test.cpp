#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(HoldDownUnlisted, a_screw_that_no_program_names_is_found) {
  Scene s;
  s.addHoldDown(screw("screw W", {10, 50}, 9.5, 3.7));
  s.job().hold_downs.push_back(screw("screw E", {190, 50}, 9.5, 3.7));
  const auto findings = s.findings(hold_down_unlisted_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].subject, "screw E");
  EXPECT_EQ(findings[0].message, "screw E is not listed in any setup or program, so nothing was checked against it");
}

TEST(HoldDownUnlisted, several_forgotten_together_are_one_finding_that_names_each) {
  Scene s;
  for (const char* name : {"screw W", "screw N", "screw E"}) {
    s.job().hold_downs.push_back(screw(name, {10, 50}, 9.5, 3.7));
    s.job().hold_downs.back().place = {static_cast<std::uint32_t>(10 + s.job().hold_downs.size()), 1, 2};
  }
  const auto findings = s.findings(hold_down_unlisted_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].subject, "screw W, screw N and screw E");
  EXPECT_EQ(findings[0].message,
            "screw W, screw N and screw E are not listed in any setup or program, so nothing was checked against them");
  EXPECT_EQ(findings[0].related.size(), 2u);
}

TEST(HoldDownUnlisted, one_listed_for_a_single_program_is_listed) {
  Scene s;
  s.addProgram("second.nc");
  s.addHoldDown(screw("screw W", {10, 50}, 9.5, 3.7));
  s.setup().programs[0].hold_downs.clear();
  EXPECT_TRUE(s.findings(hold_down_unlisted_rule).empty());
}

}  // namespace
}  // namespace provecut
