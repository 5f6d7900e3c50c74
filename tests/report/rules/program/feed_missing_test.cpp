#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(FeedMissing, a_plunge_before_any_f_word) {
  Scene s;
  s.tool().plunge_feed_mm_min = 800;
  s.rapid({50, 50, 2});
  s.feed({50, 50, -3}).flags = motion_feed_unset;
  s.last().feed_mm_min = 0;
  s.feed({90, 50, -3});
  const auto findings = s.findings(feed_missing_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::stop);
  EXPECT_EQ(findings[0].place.line, 2u);
  EXPECT_EQ(findings[0].moves, 1u);
  EXPECT_FALSE(findings[0].amount.has_value());
  EXPECT_EQ(findings[0].help, "Set F on this line or before it. The plunge feed of 6 mm flat is 800 mm/min.");
}

TEST(FeedMissing, with_a_feed_in_force_nothing_is_missing) {
  Scene s;
  s.rapid({50, 50, 2});
  s.feed({50, 50, -3});
  EXPECT_TRUE(s.findings(feed_missing_rule).empty());
}

TEST(FeedMissing, what_the_reader_has_said_is_not_said_twice) {
  Scene s;
  s.feed({50, 50, -3}).flags = motion_feed_unset;
  Problem p;
  p.kind = ProblemKind::feed_unset;
  p.id = "feed-missing";
  s.program().problems.push_back(p);
  EXPECT_TRUE(s.findings(feed_missing_rule).empty());
}

}  // namespace
}  // namespace provecut
