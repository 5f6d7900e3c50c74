#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(SpindleSync, tapping_on_a_router_is_a_stop) {
  Scene s;
  s.feed({50, 50, -3});
  s.program().features = {{"canned-cycles", {5, 1, 4}}, {"tapping", {5, 1, 4}}};
  const auto findings = s.findings(spindle_sync_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::stop);
  EXPECT_EQ(findings[0].place.line, 5u);
  EXPECT_EQ(findings[0].message, "taps a thread; a router spindle cannot turn in step with the feed");
  EXPECT_EQ(
      findings[0].help,
      "Drill the hole (G81, G83) and tap it by hand. If your machine can do it, add \"tapping\" to `accepts` under "
      "[machine].");
  EXPECT_TRUE(s.findings(not_accepted_rule).empty());  // told once
}

TEST(SpindleSync, a_stop_of_the_spindle_in_the_hole_is_a_look) {
  Scene s;
  s.program().features = {{"spindle-orientation", {5, 1, 4}}};
  ASSERT_EQ(s.findings(spindle_sync_rule).size(), 1u);
  EXPECT_EQ(s.findings(spindle_sync_rule)[0].level, Level::look);
}

TEST(SpindleSync, plain_drilling_and_a_machine_that_can_tap_are_fine) {
  Scene s;
  s.program().features = {{"canned-cycles", {5, 1, 4}}};
  EXPECT_TRUE(s.findings(spindle_sync_rule).empty());
  s.program().features.push_back({"tapping", {6, 1, 4}});
  s.job().machine.accepts.emplace_back("tapping");
  EXPECT_TRUE(s.findings(spindle_sync_rule).empty());
}

}  // namespace
}  // namespace provecut
