#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

struct Tabbed : Scene {
  Tabbed() {
    feed({10, 10, -18.2});
    Piece p;
    p.move = lastIndex();
    p.plan_area_mm2 = 96 * 45;
    p.bounds.add(WorkPoint{10, 10, -18});
    p.bounds.add(WorkPoint{106, 55, 0});
    p.tabs.resize(2);
    programRun().pieces.push_back(p);
    feed({40, 40, -12});
    programRun().cuts_in_tabbed.push_back({lastIndex(), lastIndex(), 1, {40, 40, -12}, 0, 0});
  }
};

TEST(CutInTabbedPart, says_where_and_since_when) {
  Tabbed s;
  const auto findings = s.findings(cut_in_tabbed_part_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_EQ(findings[0].place.line, 2u);
  EXPECT_EQ(findings[0].message, "cuts inside a 96 × 45 × 18 mm part held only by its tabs");
  ASSERT_EQ(findings[0].related.size(), 1u);
  EXPECT_EQ(findings[0].related[0].place.line, 1u);
}

TEST(CutInTabbedPart, one_tab_and_a_skin_are_told_as_such) {
  Tabbed s;
  Piece& piece = s.programRun().pieces[0];
  piece.tabs.resize(1);
  EXPECT_EQ(s.findings(cut_in_tabbed_part_rule)[0].message,
            "cuts inside a 96 × 45 × 18 mm part held only by its one tab");
  piece.tabs[0].onion_skin = true;
  const auto findings = s.findings(cut_in_tabbed_part_rule);
  EXPECT_EQ(findings[0].message, "cuts inside a 96 × 45 × 18 mm part held only by its onion skin");
  EXPECT_EQ(findings[0].related[0].message, "from here on only its onion skin holds it");
}

}  // namespace
}  // namespace provecut
