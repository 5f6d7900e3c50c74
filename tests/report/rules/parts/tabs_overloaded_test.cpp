#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/report/rules/pine_tabs.h"

namespace provecut {
namespace {

TEST(TabsOverloaded, one_pine_tab_fails_at_18_mm_and_holds_at_3) {
  Pine s(1);
  const auto findings = s.deep(18).findings(tabs_overloaded_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_NEAR(*findings[0].amount, 0.3818930041152, 1e-6);  // single precision of feed and depth
  EXPECT_TRUE(findings[0].message.starts_with(
      "a 96 × 45 × 18 mm part is held only by one tab; it holds 15 N, the cutter's push is 4"))
      << findings[0].message;
  EXPECT_TRUE(s.deep(3).findings(tabs_overloaded_rule).empty());
}

// 0.05 mm thick: 15.467 N × 0.05 / 3 = 0.26 N; of 0.004 mm 0.02 N.
TEST(TabsOverloaded, a_film_of_a_tab_takes_little_but_never_0_n) {
  Pine s(1);
  s.piece().tabs[0].thickness_mm = 0.05;
  EXPECT_THAT(s.deep(8).findings(tabs_overloaded_rule)[0].message, ::testing::HasSubstr("one tab; it holds 0.3 N,"));
  s.piece().tabs[0].thickness_mm = 0.004;
  EXPECT_THAT(s.findings(tabs_overloaded_rule)[0].message, ::testing::HasSubstr("it holds less than 0.1 N,"));
}

// At 18 mm 15.5 N hold twice the push of a pass of 3.4 mm; of a tab a sixth as strong, of 0.6 mm.
TEST(TabsOverloaded, a_thinner_last_pass_is_advised_only_where_it_can_be_cut) {
  Pine s(1);
  EXPECT_EQ(s.deep(18).findings(tabs_overloaded_rule)[0].help,
            "Make the last pass of the outline less than 3.4 mm deep, make the tab longer, or hold the part with tape "
            "or a clamp.");
  s.piece().tabs[0].thickness_mm = 0.5;
  EXPECT_EQ(s.findings(tabs_overloaded_rule)[0].help, "Make the tab longer, or hold the part with tape or a clamp.");
}

TEST(TabsOverloaded, just_the_force_is_borne) {
  Pine s(1);
  const double limit = 15.466666666667 / 2.25;
  EXPECT_TRUE(s.deep(limit * (1 - 1e-5)).findings(tabs_overloaded_rule).empty());
  EXPECT_EQ(s.deep(limit * (1 + 1e-5)).findings(tabs_overloaded_rule).size(), 1u);
}

TEST(TabsOverloaded, all_tabs_bear_together) {
  EXPECT_EQ(Pine(2).deep(18).findings(tabs_overloaded_rule).size(), 1u);  // 31 N against 40.5
  EXPECT_TRUE(Pine(3).deep(18).findings(tabs_overloaded_rule).empty());   // 46 N
}

TEST(TabsOverloaded, tabs_across_the_grain_hold_twenty_two_times_as_much) {
  Pine s(1);
  s.piece().tabs[0].grain_deg = 0;
  s.piece().tabs[0].along_grain = false;
  EXPECT_TRUE(s.deep(18).findings(tabs_overloaded_rule).empty());
  EXPECT_TRUE(s.findings(tab_margin_low_rule).empty());
}

TEST(TabsOverloaded, nothing_is_judged_without_a_material_or_where_a_clamp_holds) {
  Pine s(1);
  s.deep(18);
  s.piece().held_by_hold_downs = {0};
  EXPECT_TRUE(s.findings(tabs_overloaded_rule).empty());
  s.piece().held_by_hold_downs.clear();
  s.job().stock.material_given = false;
  EXPECT_TRUE(s.findings(tabs_overloaded_rule).empty());
}

// A profile in three passes with four tabs in red oak runs without trouble in a one-man shop (common practice, no
// source): 3/8 in 2-flute, 120 in/min at 12000 rpm, a third of 3/4 in deep, tabs 8 x 3. It must not be warned of.
TEST(TabsOverloaded, a_profile_in_three_passes_with_four_tabs_in_red_oak_is_not_warned_of) {
  Pine s(4);
  s.job().stock.material = Material::hardwood;
  s.job().stock.species = speciesOf("red oak");
  s.last().feed_mm_min = 3048;
  s.last().rpm = 12000;
  for (std::size_t k = 0; k < 4; ++k) {
    s.piece().tabs[k].kerf_mm = 9.525;
    if (k >= 2) s.piece().tabs[k].grain_deg = 0;
  }
  EXPECT_TRUE(s.deep(6.35).findings(tabs_overloaded_rule).empty());
}

}  // namespace
}  // namespace provecut
