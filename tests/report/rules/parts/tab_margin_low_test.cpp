#include <gtest/gtest.h>

#include "tests/report/rules/pine_tabs.h"

namespace provecut {
namespace {

TEST(TabMarginLow, a_tab_that_alone_bears_less_than_twice_the_force_is_a_note) {
  Pine s(3);
  const auto findings = s.deep(6).findings(tab_margin_low_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_NEAR(*findings[0].amount, 2.291358024691 / 2, 1e-6);
  EXPECT_EQ(findings[0].message,
            "a tab 8 mm long and 3 mm thick holds 15 N, only 1.1 times the cutter's push (minimum 2); its kerf "
            "runs along the grain");
}

TEST(TabMarginLow, twice_is_enough) {
  Pine s(2);
  const double limit = 15.466666666667 / 2.25 / 2;
  EXPECT_TRUE(s.deep(limit * (1 - 1e-5)).findings(tab_margin_low_rule).empty());
  EXPECT_EQ(s.deep(limit * (1 + 1e-5)).findings(tab_margin_low_rule).size(), 1u);
}

// 15.467 N against 2.25 N per mm of depth.
TEST(TabMarginLow, a_stiff_part_shares_the_push_among_many_tabs) {
  Pine s(8);
  EXPECT_TRUE(s.deep(15.466666666667 / 2.25 / 1.7).findings(tab_margin_low_rule).empty());
  // One that does not bear the push alone breaks whatever the others bear.
  EXPECT_EQ(s.deep(15.466666666667 / 2.25 / 0.9).findings(tab_margin_low_rule).size(), 1u);
}

TEST(TabMarginLow, the_tabs_that_tabs_weak_tells_of_are_not_told_again) {
  Pine s(3);
  s.deep(6);
  for (Tab& t : s.piece().tabs) t.area_mm2 = 14;
  EXPECT_EQ(s.findings(tabs_weak_rule).size(), 1u);
  EXPECT_NE(s.findings(tabs_weak_rule)[0].message.find("the weakest holds 15 N, the cutter pushes with 14 N"),
            std::string::npos);
  EXPECT_TRUE(s.findings(tab_margin_low_rule).empty());
}

TEST(TabMarginLow, where_even_all_do_not_hold_it_is_left_to_tabs_overloaded) {
  Pine s(1);
  EXPECT_TRUE(s.deep(18).findings(tab_margin_low_rule).empty());
}

TEST(TabMarginLow, without_a_species_it_says_that_the_weakest_was_taken) {
  Pine s(4);
  s.job().stock.species = nullptr;
  const auto findings = s.deep(6).findings(tab_margin_low_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_NE(findings[0].help.find("stock.species"), std::string::npos);
}

}  // namespace
}  // namespace provecut
