#include <gtest/gtest.h>

#include <string>
#include <utility>

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
  EXPECT_EQ(findings[0].message, "the program uses canned cycles, but this machine does not accept them");
}

TEST(NotAccepted, what_the_machine_accepts_may_be_used) {
  Scene s;
  s.program().features = {{"arcs", {3, 1, 3}}, {"canned-cycles", {5, 1, 4}}};
  EXPECT_TRUE(s.findings(not_accepted_rule).empty());
}

TEST(NotAccepted, each_feature_is_named_by_its_code) {
  const std::pair<const char*, const char*> codes[] = {
      {"tool-change", "M6"}, {"cutter-compensation", "G41"}, {"feed-per-revolution", "G95"}};
  Scene s;
  s.job().machine.accepts = {};
  for (const auto& [feature, code] : codes) s.program().features.push_back({feature, {3, 1, 3}});
  s.program().features.push_back({"arcs", {5, 1, 4}});
  const auto findings = s.findings(not_accepted_rule);
  ASSERT_EQ(findings.size(), 4u);
  for (std::size_t i = 0; i < 3; ++i) {
    EXPECT_EQ(findings[i].subject, codes[i].first);
    EXPECT_NE(findings[i].message.find(codes[i].second), std::string::npos) << findings[i].message;
  }
  EXPECT_NE(findings[3].message.find("arcs"), std::string::npos) << findings[3].message;
}

}  // namespace
}  // namespace provecut
