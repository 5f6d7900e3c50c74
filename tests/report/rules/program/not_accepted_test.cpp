#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(NotAccepted, a_cycle_on_a_machine_without_cycles) {
  Scene s;
  s.job().machine.accepts = {"arcs"};
  s.program().features = {{"arcs", {3, 1, 3}}, {"canned-cycles", {5, 1, 4}}};
  const auto findings = s.findings(not_accepted_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].subject, "canned-cycles");
  EXPECT_EQ(findings[0].place.line, 5u);
  EXPECT_EQ(findings[0].message, "the program uses canned cycles; this machine does not accept that");
}

TEST(NotAccepted, what_the_machine_accepts_may_be_used) {
  Scene s;
  s.program().features = {{"arcs", {3, 1, 3}}, {"canned-cycles", {5, 1, 4}}};
  EXPECT_TRUE(s.findings(not_accepted_rule).empty());
}

}  // namespace
}  // namespace provecut
