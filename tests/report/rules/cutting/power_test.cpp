#include <gtest/gtest.h>

#include "tests/report/rules/load_scene.h"

namespace provecut {
namespace {

struct Small : LoadScene {
  Small() { job().machine.spindle_power_w = 400; }
  void takes(double cutter_w) {
    feed({right ? 80.0 : 20.0, 20, -3});
    right = !right;
    MoveLoad load;
    load.chip_load_mm = 0.1F;
    load.power_w = static_cast<float>(cutter_w);
    load.removal_mm3_min = removal_mm3_min;
    load.top_speed_mm_min = 3000;
    loads(load);
  }
  bool right = true;
  float removal_mm3_min = 760000;  // 316.7 W at 25 J/cm3 for the chips' area, the rest for the edges
};

TEST(Power, a_cut_that_asks_more_than_the_spindle_has_is_named) {
  Small s;
  s.takes(328);
  s.takes(400);
  const auto findings = s.findings(power_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].unit, "W");
  EXPECT_NEAR(*findings[0].amount, 500, 1e-3);
  EXPECT_EQ(findings[0].message, "6 mm flat needs up to 500 W at the motor (maximum 400 W)");
  // 80 W less of 316.7 W: 0.7474 of 3000 mm/min. Nine tenths of 0.8 of 3 mm.
  EXPECT_EQ(findings[0].help, "Take no more than 2.1 mm per pass, or feed at 2,240 mm/min or less.");
}

TEST(Power, no_feed_is_advised_where_the_edges_alone_ask_too_much) {
  Small s;
  s.removal_mm3_min = 180000;  // 75 W of 400 W
  s.takes(400);
  EXPECT_EQ(s.findings(power_rule).at(0).help, "Take no more than 2.1 mm per pass.");
}

TEST(Power, four_fifths_reach_the_cutter_and_all_of_it_may_be_asked) {
  Small s;
  s.takes(320);
  EXPECT_TRUE(s.findings(power_rule).empty());
  s.takes(320.1);
  EXPECT_EQ(s.findings(power_rule).size(), 1u);
}

TEST(Power, without_a_job_file_the_spindle_is_not_known) {
  Small s;
  s.takes(4000);
  s.job().file.clear();
  EXPECT_TRUE(s.findings(power_rule).empty());
}

}  // namespace
}  // namespace provecut
