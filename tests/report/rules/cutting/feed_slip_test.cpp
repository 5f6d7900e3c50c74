#include <gtest/gtest.h>

#include "tests/report/rules/load_scene.h"

namespace provecut {
namespace {

// Hardwood, 6 mm, two flutes at 18,000 rpm: F2500 is 0.069 mm per tooth, and below 0.0382 mm the bit rubs (half of
// 0.0764 mm, between 0.04 at 3.175 and 0.08 at 6.35 mm: the charts of chip-load).
struct Slip : LoadScene {
  void cutsAtFeed(double feed, double x, double y) {
    feed_mm_min = feed;
    this->feed({x, y, -3});
    const float f = static_cast<float>(feed);
    loads({f, f, f / 36000, f / 36000, 1000, 10, 5, 0.01F});
  }
  std::vector<Finding> slips() { return findings(feed_slip_rule); }
};

TEST(FeedSlip, a_pass_at_25_among_passes_at_2500_names_the_feed_and_the_time_it_costs) {
  Slip s;
  s.feed_mm_min = 300;
  s.feed({0, 0, -3});
  s.cutsAtFeed(25, 180, 0);  // 7 min 12 s in place of 4 s
  s.cutsAtFeed(2500, 180, 80);
  const auto findings = s.slips();
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].place.line, 2u);
  EXPECT_EQ(findings[0].subject, "6 mm flat");
  EXPECT_DOUBLE_EQ(*findings[0].amount, 25);
  EXPECT_EQ(findings[0].message,
            "6 mm flat moves at only 25 mm/min (0.001 mm per tooth) for 0:07:12; at 2,500 mm/min that takes 0:00:04");
  EXPECT_EQ(findings[0].help, "Set F2500 (2,500 mm/min) here: this program uses it elsewhere.");
  EXPECT_TRUE(s.findings(chip_thin_rule).empty()) << "told once";
}

TEST(FeedSlip, a_program_at_f1_throughout_is_days_long_and_nobody_meant_it) {
  Slip s;
  for (int k = 0; k < 20; ++k) s.cutsAtFeed(1, k % 2 ? 20 : 180, 40);
  ASSERT_EQ(s.slips().size(), 1u);
  EXPECT_TRUE(s.slips()[0].message.starts_with("6 mm flat moves at only 1 mm/min")) << s.slips()[0].message;
  // 1,000 mm/min would be 0.028 mm per tooth, which rubs: no feed to name.
  EXPECT_EQ(s.slips()[0].help, "Correct the feed here.");
  Slip f2;
  for (int k = 0; k < 20; ++k) f2.cutsAtFeed(2, k % 2 ? 20 : 180, 40);
  EXPECT_EQ(f2.slips().at(0).help, "Set F2000 (2,000 mm/min) here, if you meant that.");
}

TEST(FeedSlip, inches_per_minute_read_as_millimetres_are_told_with_the_other_unit) {
  Slip s;
  s.cutsAtFeed(60, 180, 0);
  s.cutsAtFeed(60, 0, 0);
  s.cutsAtFeed(1524, 180, 0);
  ASSERT_EQ(s.slips().size(), 1u);
  EXPECT_EQ(s.slips()[0].help, "Set F1524 (1,524 mm/min) here: this program uses it elsewhere.");
}

TEST(FeedSlip, an_inch_program_gets_its_own_number) {
  Slip s;
  s.program().modal.ever_mm = false;
  s.program().modal.ever_inch = true;
  s.cutsAtFeed(25.4, 180, 0);
  s.cutsAtFeed(2540, 180, 80);
  ASSERT_EQ(s.slips().size(), 1u);
  EXPECT_EQ(s.slips()[0].help, "Set F100 (2,540 mm/min) here: this program uses it elsewhere.");
}

TEST(FeedSlip, slow_plunges_and_honest_slow_feeds_are_left_alone) {
  Slip s;
  for (int k = 0; k < 40; ++k) {  // 5 mm down at F60, as on metal: 200 s in all
    s.feed_mm_min = 60;
    s.rapid({5.0 * k, 10, 2});
    s.feed({5.0 * k, 10, -3});
    s.cuts(3, 3);
    s.cutsAtFeed(2500, 5.0 * k, 40);
  }
  EXPECT_TRUE(s.slips().empty());
  Slip fine;  // a third of where it rubs: chip-thin's
  for (int k = 0; k < 40; ++k) fine.cutsAtFeed(450, k % 2 ? 20 : 180, 40);
  EXPECT_TRUE(fine.slips().empty());
  EXPECT_EQ(fine.findings(chip_thin_rule).size(), 1u);
}

// 12 mm plywood, 6 mm compression: F300, F400 and F7200 with two zeros lost. 72 / 36,000 = 0.002 mm per tooth; below
// 0.047 mm it rubs, and only a hundred times as much, 0.2 mm, is on the chart.
TEST(FeedSlip, a_tool_that_lost_two_zeros_everywhere_is_one_finding_with_one_answer) {
  Slip s;
  s.job().stock.material = Material::plywood;
  s.job().machine.max_rate_mm_min = {12000, 12000, 5000};
  s.rapid({12, 35, 2});
  s.feed_mm_min = 3;
  s.feed({12, 35, 0});
  s.cuts(0, 0, 0);
  s.cutsAtFeed(4, 12, 95);
  for (int k = 0; k < 10; ++k) s.cutsAtFeed(72, k % 2 ? 12 : 180, 95);
  const auto findings = s.slips();
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].help,
            "Set F300 in place of F3, F400 in place of F4 and F7200 in place of F72, if you meant that.");
  EXPECT_TRUE(s.findings(chip_thin_rule).empty()) << "no third answer";
}

// MDF, 3 mm, two flutes at 18,000 rpm: half of 0.05 mm in proportion to 1/8 in is 0.0236 mm per tooth, and no less than
// 0.025 mm so: F851. The program's other feed, F100, rubs too and is no answer.
TEST(FeedSlip, where_the_other_feeds_rub_as_well_the_least_that_cuts_is_named) {
  Slip s;
  s.job().stock.material = Material::mdf;
  s.tool().diameter_mm = 3;
  const auto cut = [&](double feed, double x) {
    s.feed_mm_min = feed;
    s.feed({x, 40, -3});
    const auto f = static_cast<float>(feed);
    s.loads({f, f, f / 36000, f / 36000, 1000, 10, 5, 0.01F}, 3, 3);
  };
  for (int k = 0; k < 4; ++k) cut(5, k % 2 ? 20 : 180);
  cut(100, 20);
  cut(100, 180);
  ASSERT_EQ(s.slips().size(), 1u);
  EXPECT_EQ(s.slips()[0].help, "Set F860 (860 mm/min) or more for all cuts of this bit: below it the bit rubs.");
  EXPECT_TRUE(s.findings(chip_thin_rule).empty());
}

// Brass and an engraver of one flute: 25 / 24,000 = 0.001 mm per tooth. No edge is so sharp that it cuts that.
TEST(FeedSlip, a_thousandth_of_a_millimetre_cuts_nothing_in_brass_either) {
  const auto engraved = [](double feed) {
    Slip s;
    s.job().stock.material = Material::brass;
    s.tool().shape = ToolShape::vee;
    s.tool().angle_deg = 20;
    s.tool().tip_diameter_mm = 0.1;
    s.tool().flutes = 1;
    s.rpm = 24000;
    for (int k = 0; k < 4; ++k) {
      s.rapid({12, 15.0 + k, 0.3});
      s.feed_mm_min = feed * 6 / 25;
      s.feed({12, 15.0 + k, -0.15});
      s.cutsAtFeed(feed, 82, 15.0 + k);
    }
    return s.slips();
  };
  ASSERT_EQ(engraved(25).size(), 1u);
  EXPECT_EQ(engraved(25)[0].help, "Set F60 in place of F6 and F250 in place of F25, if you meant that.");
  EXPECT_TRUE(engraved(50).empty()) << "slow, but shops do that";
}

// Aluminium, 6 mm, one flute: F90 is 0.005 mm per tooth, a fifth of where it rubs, and the bit comes down a helix at
// F500.
TEST(FeedSlip, a_cut_slower_than_the_helix_that_leads_to_it_is_told) {
  const auto cut = [](double feed, double helix) {
    Slip s;
    s.job().stock.material = Material::aluminium;
    s.tool().flutes = 1;
    s.rapid({26, 25, 0.2});
    s.feed_mm_min = helix;
    for (int k = 1; k < 8; ++k) s.arc({26, 25, -0.4 * k}, {24.75, 25}, Plane::xy, false);
    s.cuts(0.4, 0.4);
    for (int k = 0; k < 5; ++k) s.cutsAtFeed(feed, k % 2 ? 26 : 126, 25);
    return s.slips();
  };
  ASSERT_EQ(cut(90, 500).size(), 1u);
  EXPECT_EQ(cut(90, 500)[0].help, "Set F900 (900 mm/min) here, if you meant that.");
  EXPECT_TRUE(cut(90, 100).empty()) << "a slow machine";
  EXPECT_TRUE(cut(150, 500).empty()) << "thin chips: chip-thin's";
}

TEST(FeedSlip, what_costs_less_than_a_minute_is_not_worth_a_word) {
  Slip s;
  s.rapid({0, 0, -3});
  s.cutsAtFeed(25, 24, 0);  // 58 s
  s.cutsAtFeed(2500, 180, 80);
  EXPECT_TRUE(s.slips().empty());
  s.cutsAtFeed(25, 178, 80);
  EXPECT_EQ(s.slips().size(), 1u);
}

TEST(FeedSlip, a_feed_beyond_the_machine_is_not_named) {
  Slip s;
  s.job().machine.max_rate_mm_min = {1500, 1500, 500};
  s.cutsAtFeed(25, 180, 0);
  s.cutsAtFeed(2500, 180, 80);
  EXPECT_EQ(s.slips().at(0).help, "Correct the feed here.");
}

TEST(FeedSlip, without_a_speed_only_a_crawl_is_told) {
  Slip s;
  s.rpm = 0;
  s.cutsAtFeed(4, 180, 0);
  EXPECT_EQ(s.slips().size(), 1u);
  Slip faster;
  faster.rpm = 0;
  faster.cutsAtFeed(30, 180, 0);
  EXPECT_TRUE(faster.slips().empty());
}

// 60 degrees with a tip of 0.2 mm, 0.05 mm deep: 0.2 + 2 · 0.05 · tan 30° = 0.2577 mm wide, of which a quarter is
// 0.0644.
struct TinyTip : LoadScene {
  explicit TinyTip(double per_tooth) {
    tool().name = "engraver";
    tool().shape = ToolShape::vee;
    tool().angle_deg = 60;
    tool().tip_diameter_mm = 0.2;
    cutsAt(per_tooth, per_tooth, 0.05);
    MoveCut& cut = programRun().cuts.back();
    cut.section_mm2 = 0.0114F;
    cut.max_radial_depth_mm = 0.2577F;
  }
};

TEST(FeedSlip, half_the_width_of_a_tip_per_tooth_breaks_it) {
  TinyTip s(0.125);
  const auto findings = s.findings(feed_slip_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].message,
            "engraver takes 0.125 mm per tooth where it is 0.258 mm wide (maximum 0.103 mm): its tip breaks");
  EXPECT_EQ(findings[0].help,
            "Lower the feed to 3,710 mm/min, or use 21,900 rpm. If this bit can take more, set its chip_load in the "
            "job file.");
}

TEST(FeedSlip, two_fifths_of_the_tip_are_enough_for_it) {
  EXPECT_TRUE(TinyTip(0.103).findings(feed_slip_rule).empty());
  EXPECT_EQ(TinyTip(0.1032).findings(feed_slip_rule).size(), 1u);
  TinyTip own(0.12);
  own.tool().chip_load_mm = Vec2{0.01, 0.15};
  EXPECT_TRUE(own.findings(feed_slip_rule).empty()) << "the tool's own range is taken as it is";
  TinyTip foam(0.12);
  foam.job().stock.material = Material::foam;
  EXPECT_TRUE(foam.findings(feed_slip_rule).empty());
}

// A tip of 0.2 mm that does little more than scratch: 0.1 mm per tooth is half of it.
TEST(FeedSlip, a_tenth_of_a_millimetre_per_tooth_is_too_much_for_a_tip_of_two_tenths) {
  TinyTip s(0.1);
  s.programRun().cuts.back().section_height_mm = 0.02F;
  EXPECT_EQ(s.findings(feed_slip_rule).size(), 1u);
  s.tool().tip_diameter_mm = 0;
  EXPECT_TRUE(s.findings(feed_slip_rule).empty()) << "a vee whose tip is not known";
}

TEST(FeedSlip, a_tip_that_breaks_is_not_told_by_chip_load_too) {
  TinyTip s(0.2);
  EXPECT_EQ(s.findings(feed_slip_rule).size(), 1u);
  EXPECT_TRUE(s.findings(chip_load_rule).empty());
}

}  // namespace
}  // namespace provecut
