#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(NutHit, the_stick_out_that_would_do_is_named) {
  Scene s;
  s.tool().stickout_mm = 13;
  s.feed({50, 50, -15.05});
  BodyInStock b;
  b.move = s.lastIndex();
  b.part = ToolPart::collet_nut;
  b.depth_mm = 2.05;
  b.at = {50, 50, -15.05};
  s.programRun().bodies_in_stock.push_back(b);
  const auto findings = s.findings(nut_hit_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::stop);
  EXPECT_EQ(findings[0].subject, "6 mm flat");
  EXPECT_DOUBLE_EQ(*findings[0].amount, 2.05);
  EXPECT_EQ(findings[0].message, "the collet nut digs 2.05 mm into the stock");
  EXPECT_EQ(
      findings[0].help,
      "Give 6 mm flat a stickout of 17 mm (now 13 mm) and set Z zero again. Or cut no deeper than Z -12 mm with it.");
}

// 17 mm out of a 40 mm bit leave 23 mm; the collet must hold 24.
TEST(NutHit, a_bit_too_short_to_stick_out_farther_is_not_advised_to) {
  Scene s;
  s.tool().stickout_mm = 13;
  s.tool().overall_length_mm = 40;
  s.feed({50, 50, -15.05});
  BodyInStock b;
  b.move = s.lastIndex();
  b.depth_mm = 2.05;
  s.programRun().bodies_in_stock.push_back(b);
  EXPECT_EQ(s.findings(nut_hit_rule)[0].help, "Cut no deeper than Z -12 mm with it. Or use a longer bit.");
}

// 18 mm of stock: less depth would leave it uncut.
TEST(NutHit, what_must_go_through_is_not_to_be_cut_less_deep) {
  Scene s;
  s.tool().stickout_mm = 16;
  s.feed({50, 50, -18.05});
  BodyInStock b;
  b.move = s.lastIndex();
  b.depth_mm = 2.05;
  s.programRun().bodies_in_stock.push_back(b);
  EXPECT_EQ(s.findings(nut_hit_rule).at(0).help,
            "Give 6 mm flat a stickout of 20 mm (now 16 mm) and set Z zero again.");
}

TEST(NutHit, what_travels_with_the_spindle_has_its_own_name) {
  Scene s;
  s.job().spindle_attachments.push_back({"dust shoe", 100, -6, 40});
  s.feed({50, 50, -30});
  BodyInStock b;
  b.move = s.lastIndex();
  b.part = ToolPart::attachment;
  b.attachment = 0;
  b.depth_mm = 1;
  s.programRun().bodies_in_stock.push_back(b);
  ASSERT_EQ(s.findings(nut_hit_rule).size(), 1u);
  EXPECT_EQ(s.findings(nut_hit_rule)[0].message, "the dust shoe digs 1 mm into the stock");
}

TEST(NutHit, nothing_is_said_where_only_the_cutter_is_in_the_wood) {
  Scene s;
  s.feed({50, 50, -10});
  s.cuts(10, 10);
  EXPECT_TRUE(s.findings(nut_hit_rule).empty());
}

}  // namespace
}  // namespace provecut
