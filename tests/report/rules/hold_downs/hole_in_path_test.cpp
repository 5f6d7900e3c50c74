#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

TEST(HoleInPath, the_first_move_over_an_old_screw_hole_is_named_and_the_screw) {
  Scene s;
  const int index = s.addHoldDown(screw("screw SW", {12, 12}, 9, 4.5));
  s.addProgram("20-groove.nc");
  s.feed({30, 12, 5});
  s.feed({60, 12, -3});
  EXPECT_TRUE(s.findings(hole_in_path_rule).empty());
  s.run().holes_in_path.push_back({1, 1, 4, index, 0, {40, 12, -3}});
  const auto findings = s.findings(hole_in_path_rule);
  ASSERT_EQ(findings.size(), 1u);
  const Finding& f = findings[0];
  EXPECT_EQ(f.level, Level::note);
  EXPECT_EQ(f.program, "20-groove.nc");
  EXPECT_EQ(f.place.line, 2u);
  EXPECT_EQ(f.moves, 4u);
  EXPECT_EQ(f.subject, "screw SW");
  EXPECT_EQ(f.message, "cuts over the hole that screw SW left in setup front; the bit would hit any metal left in it");
}

}  // namespace
}  // namespace provecut
