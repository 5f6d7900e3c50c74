// Parts on tabs in plain cases whose areas follow from closed forms (tests/reference/tabs/kerf_line.h).
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "sim/run.h"
#include "tests/reference/sheet_job.h"
#include "tests/reference/tabs/kerf_line.h"
#include "tests/reference/tabs/told_parts.h"

namespace provecut::testing {
namespace tabs_cases_test {

using reference::Face;
using reference::Form;
using reference::LiftedTip;
using reference::Path;
using reference::PlanPoint;
using reference::Profile;
using reference::Sheet;
using reference::SheetTool;
using reference::TruePart;
using reference::TrueTab;

constexpr double clear_mm = 5;  // above the stock

SheetTool flatCutter(double diameter) {
  return {Form::flat, diameter, 0, 0, 0, 0, 0};
}
SheetTool ballCutter(double diameter) {
  return {Form::ball, diameter, 0, 0, 0, 0, 0};
}
SheetTool veeCutter(double diameter, double angle) {
  return {Form::vee, diameter, 0, angle, 0, 0, 0};
}
SheetTool taperBallCutter(double diameter, double tip_radius, double half_angle) {
  return {Form::taper_ball, diameter, 0, 0, 0, tip_radius, half_angle};
}

// A square part in the middle of a sheet with a screw in each corner.
struct SquarePart {
  Sheet sheet;
  Profile tool;
  double low = 0;  // of the tip
  TruePart part;
  std::vector<LiftedTip> lifts;
};

SquarePart squareOf(double side, double thickness, const SheetTool& tool, double below) {
  SquarePart s;
  s.tool = profileOf(tool);
  s.low = -below;
  const double radius = radiusAt(s.tool, thickness + below);
  const double size = std::ceil(side + 4 * radius + 24);
  s.sheet.size_x = s.sheet.size_y = size;
  s.sheet.thickness = thickness;
  s.sheet.tools = {tool};
  for (const double x : {5.0, size - 5}) {
    for (const double y : {5.0, size - 5}) {
      s.sheet.hold_downs.push_back({reference::HoldKind::screw, x, y, 6, 0, 0, Face::front});
    }
  }
  const double half = side / 2 + radius;
  s.part.path = reference::rectanglePath({size / 2 + 0.013, size / 2 + 0.017}, half, half, 0);
  const auto about = [&](double reach) {
    return reference::PlanBox{size / 2 - reach, size / 2 + reach, size / 2 - reach, size / 2 + reach};
  };
  s.part.least = about(side / 2);
  s.part.most = about(side / 2 + 2 * radius);
  return s;
}

// A tab in the middle of a side, 0 (right), 1, 2 counter-clockwise; as long at its foot and as high.
void addTab(SquarePart& s, int side, double length, double height, double ramp = 0) {
  const double middle = lengthOf(s.part.path) / 8 * (2 + 2 * side);
  LiftedTip tip{0, 0, ramp, s.low, height};
  const double reach = reachOf(s.tool, tip, 0);
  tip.from = middle - length / 2 - reach;
  tip.to = middle + length / 2 + reach;
  s.lifts.push_back(tip);
  const double kerf = 2 * radiusAt(s.tool, height - s.low);
  s.part.tabs.push_back(
      {pointOn(s.part.path, middle), length, height, kerf, middleArea(s.tool, tip, 0, s.sheet.thickness), true, {}});
}

reference::Writer newProgram(SquarePart& s) {
  s.sheet.programs.push_back({Face::front, {}, {0, 1, 2, 3}});
  return {&s.sheet.programs.back(), 0, {0, 0, s.sheet.thickness + clear_mm}};
}

void cutAlong(SquarePart& s, reference::Writer& writer, double from, double to,
              const std::vector<LiftedTip>& lifts = {}) {
  const double safe = s.sheet.thickness + clear_mm;
  const PlanPoint start = pointOn(s.part.path, from);
  rapidTo(writer, {start.x, start.y, safe});
  feedTo(writer, {start.x, start.y, s.low});
  if (lifts.empty()) {
    follow(writer, s.part.path, {{from, s.low}, {to, s.low}});
  } else {
    follow(writer, s.part.path, passAt(lifts, s.low, to));
  }
  rapidTo(writer, {writer.at.x, writer.at.y, safe});
}

// The outline with its tabs as one program.
void cutOutline(SquarePart& s) {
  reference::Writer writer = newProgram(s);
  cutAlong(s, writer, 0, lengthOf(s.part.path), s.lifts);
}

struct Seen {
  Job job;
  Run run;
  std::vector<ToldPart> told;
};

void look(const SquarePart& s, Seen& seen) {
  seen.job = jobOf(s.sheet, 0);
  seen.run = run(seen.job, programsOf(s.sheet));
  seen.told = toldParts(seen.job, seen.run);
}

// The one piece that the first program leaves on tabs: with these tabs, each told once and by its area.
void expectItsTabs(const SquarePart& s, const Seen& seen) {
  const auto tabbed = [](const ToldPart& t) { return !t.tabs.empty(); };
  ASSERT_EQ(std::count_if(seen.told.begin(), seen.told.end(), tabbed), 1);
  const ToldPart& told = *std::find_if(seen.told.begin(), seen.told.end(), tabbed);
  EXPECT_EQ(told.program, 0);
  EXPECT_TRUE(isBoxOf(s.part, told.box));
  EXPECT_EQ(told.tabs.size(), s.part.tabs.size());
  for (const TrueTab& tab : s.part.tabs) {
    const auto at = std::find_if(told.tabs.begin(), told.tabs.end(),
                                 [&](const ToldTab& t) { return standsAt(tab, t.at, judgedCell_mm(seen.run)); });
    ASSERT_TRUE(at != told.tabs.end()) << "no tab at " << tab.at.x << ", " << tab.at.y;
    EXPECT_FALSE(at->tab->onion_skin);
    EXPECT_TRUE(hasAreaOf(tab, at->tab->area_mm2, judgedCell_mm(seen.run)))
        << at->tab->area_mm2 << " mm², true are " << tab.area_mm2;
  }
  EXPECT_EQ(floorsOnTabs(seen.job, seen.run, s.part.tabs), 0) << "a tab is told as a thin floor";
  for (const ProgramRun& p : seen.run.programs) EXPECT_TRUE(p.still_attached.empty());
}

void expectItsTabsOnceCut(SquarePart& s) {
  cutOutline(s);
  Seen seen;
  look(s, seen);
  expectItsTabs(s, seen);
}

void expectTwoTabs(const SheetTool& tool, double below, double length, double height) {
  SquarePart s = squareOf(40, 6, tool, below);
  addTab(s, 0, length, height);
  addTab(s, 2, length, height);
  expectItsTabsOnceCut(s);
}

TEST(TabsCases, tabs_of_10_by_0_3_under_a_ball_are_two_tabs_and_no_skin) {
  expectTwoTabs(ballCutter(4), 0.6, 10, 0.3);
}

TEST(TabsCases, tabs_under_a_flat_cutter_are_as_long_as_the_lift_less_its_diameter) {
  expectTwoTabs(flatCutter(3), 0.2, 6, 1.2);
}

TEST(TabsCases, tabs_under_a_vee_have_sloping_ends) {
  expectTwoTabs(veeCutter(8, 90), 0.8, 6, 1.2);
  expectTwoTabs(veeCutter(6, 60), 0.6, 4, 0.5);
}

TEST(TabsCases, tabs_under_a_taper_ball_are_seen) {
  expectTwoTabs(taperBallCutter(4, 0.5, 6), 0.5, 5, 1);
}

TEST(TabsCases, tabs_under_a_bull_nose_and_a_drill_point_are_seen) {
  expectTwoTabs({Form::bull, 6, 1.5, 0, 0, 0, 0}, 0.3, 5, 0.8);
  expectTwoTabs({Form::drill, 4, 0, 118, 0, 0, 0}, 0.7, 5, 0.8);
}

TEST(TabsCases, tabs_nine_tenths_of_the_stock_high_are_tabs) {
  expectTwoTabs(flatCutter(3), 0.2, 3, 5.4);
}

TEST(TabsCases, gaps_left_in_the_kerf_are_tabs_as_high_as_the_stock) {
  SquarePart s = squareOf(40, 6, flatCutter(3), 0.2);
  addTab(s, 0, 4, 6 + clear_mm);
  addTab(s, 2, 4, 6 + clear_mm);
  for (TrueTab& tab : s.part.tabs) tab.height_mm = 6;
  expectItsTabsOnceCut(s);
}

TEST(TabsCases, tabs_thicker_than_half_the_stock_hold_a_small_part) {
  SquarePart s = squareOf(24, 4, flatCutter(3), 0.2);
  addTab(s, 0, 2, 2.4);
  addTab(s, 2, 2, 2.4);
  expectItsTabsOnceCut(s);
}

TEST(TabsCases, a_thin_and_a_thick_tab_on_a_small_part_are_both_told) {
  SquarePart s = squareOf(24, 4, flatCutter(3), 0.2);
  addTab(s, 0, 2, 1.0);
  addTab(s, 2, 2, 2.8);
  expectItsTabsOnceCut(s);
}

TEST(TabsCases, a_part_of_4_mm2_hangs_on_its_tab) {
  SquarePart s = squareOf(2.1, 4, flatCutter(3), 0.2);
  addTab(s, 0, 0.8, 0.6);
  expectItsTabsOnceCut(s);
}

TEST(TabsCases, ramped_tabs_are_measured_by_their_least_section) {
  SquarePart s = squareOf(40, 9, flatCutter(4), 0.2);
  addTab(s, 0, 10, 2.5, 4);
  addTab(s, 1, 10, 2.5, 6.5);
  expectItsTabsOnceCut(s);
}

// The first tab is cut, then the second; a last pass cleans up where the first was.
TEST(TabsCases, a_part_whose_tabs_are_cut_later_comes_loose_with_the_last_of_them) {
  for (const SheetTool& tool : {flatCutter(3), ballCutter(4), veeCutter(8, 90)}) {
    SquarePart s = squareOf(40, 6, tool, 0.8);
    addTab(s, 0, 5, 1.5);
    addTab(s, 2, 5, 1.5);
    cutOutline(s);
    reference::Writer writer = newProgram(s);
    const auto cut = [&](const LiftedTip& tip) { cutAlong(s, writer, tip.from - 0.5, tip.to + 0.5); };
    cut(s.lifts[0]);
    cut(s.lifts[1]);
    const std::size_t last_of_second = writer.program->moves.size() - 2;  // a rapid up follows it
    cut(s.lifts[0]);
    Seen seen;
    look(s, seen);
    const auto tabbed = std::find_if(seen.told.begin(), seen.told.end(), [](const auto& t) { return !t.tabs.empty(); });
    ASSERT_TRUE(tabbed != seen.told.end());
    EXPECT_EQ(tabbed->tabs.size(), 2U);
    const auto loose = std::find_if(seen.told.begin(), seen.told.end(), [&](const ToldPart& t) {
      return t.program == 1 && t.tabs.empty() && isBoxOf(s.part, t.box);
    });
    ASSERT_TRUE(loose != seen.told.end());
    EXPECT_TRUE(loose->piece->free);
    EXPECT_TRUE(loose->piece->told_before);
    EXPECT_EQ(loose->piece->move, last_of_second);
  }
}

TEST(TabsCases, a_pocket_in_a_part_that_hangs_on_tabs_is_told_within_one_program) {
  for (const SheetTool& tool : {flatCutter(3), ballCutter(4), veeCutter(8, 90)}) {
    SquarePart s = squareOf(40, 6, tool, 0.8);
    addTab(s, 0, 5, 1.5);
    addTab(s, 2, 5, 1.5);
    cutOutline(s);
    const double middle = s.sheet.size_x / 2;
    reference::Writer writer{&s.sheet.programs[0], 0, s.sheet.programs[0].moves.back().to};
    rapidTo(writer, {middle - 8, middle, 6 + clear_mm});
    const auto first = static_cast<std::uint32_t>(writer.program->moves.size());
    feedTo(writer, {middle - 8, middle, 4});
    feedTo(writer, {middle + 8, middle, 4});
    rapidTo(writer, {middle + 8, middle, 6 + clear_mm});
    Seen seen;
    look(s, seen);
    ASSERT_EQ(seen.run.programs[0].cuts_in_tabbed.size(), 1U);
    const CutInTabbed& cut = seen.run.programs[0].cuts_in_tabbed[0];
    EXPECT_EQ(cut.first, first);
    EXPECT_EQ(cut.last, first + 1);
    EXPECT_EQ(cut.tabbed_since_run, 0);
  }
}

TEST(TabsCases, a_skin_all_round_is_one_onion_skin_as_long_as_the_part_is_round) {
  SquarePart s = squareOf(40, 6, flatCutter(3), -0.4);
  cutOutline(s);
  Seen seen;
  look(s, seen);
  const auto told = std::find_if(seen.told.begin(), seen.told.end(), [](const ToldPart& t) { return !t.tabs.empty(); });
  ASSERT_TRUE(told != seen.told.end());
  ASSERT_EQ(told->tabs.size(), 1U);
  EXPECT_TRUE(told->tabs[0].tab->onion_skin);
  EXPECT_NEAR(told->tabs[0].tab->thickness_mm, 0.4, 0.02);
  EXPECT_NEAR(told->tabs[0].tab->area_mm2, 160 * 0.4, 0.05 * 160 * 0.4);
}

TEST(TabsCases, an_outline_left_open_for_half_its_length_holds_no_part_on_tabs) {
  SquarePart s = squareOf(40, 6, flatCutter(3), 0.2);
  reference::Writer writer = newProgram(s);
  cutAlong(s, writer, 0, lengthOf(s.part.path) / 2);
  Seen seen;
  look(s, seen);
  EXPECT_TRUE(std::all_of(seen.told.begin(), seen.told.end(), [](const ToldPart& t) { return t.tabs.empty(); }));
}

}  // namespace tabs_cases_test
}  // namespace provecut::testing
