#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

struct Pass : Scene {
  Pass() { tool().plunge_feed_mm_min = 400; }
  void cut(WorkPoint to, double feed) {
    feed_mm_min = feed;
    this->feed(to);
    cuts(3, 3);
  }
};

TEST(CutAtPlungeFeed, a_pass_that_crawls_while_others_do_not) {
  Pass s;
  s.rapid({10, 10, -3});
  s.cut({70, 10, -3}, 400);
  s.cut({70, 80, -3}, 1200);
  const auto findings = s.findings(cut_at_plunge_feed_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_DOUBLE_EQ(*findings[0].amount, 400);
  EXPECT_EQ(findings[0].message,
            "6 mm flat crawls for 60 mm at its plunge feed of 400 mm/min or less; elsewhere it cuts at 1,200 mm/min");
}

TEST(CutAtPlungeFeed, a_program_that_is_slow_throughout_means_it) {
  Pass s;
  s.rapid({10, 10, -3});
  s.cut({70, 10, -3}, 400);
  s.cut({70, 80, -3}, 400);
  EXPECT_TRUE(s.findings(cut_at_plunge_feed_rule).empty());
}

TEST(CutAtPlungeFeed, less_than_fifty_millimetres_is_a_way_in) {
  Pass s;
  s.rapid({10, 10, -3});
  s.cut({59.9, 10, -3}, 400);
  s.cut({70, 80, -3}, 1200);
  EXPECT_TRUE(s.findings(cut_at_plunge_feed_rule).empty());
  s.cut({70.2, 80, -3}, 400);
  EXPECT_EQ(s.findings(cut_at_plunge_feed_rule).size(), 1u);
}

}  // namespace
}  // namespace provecut
