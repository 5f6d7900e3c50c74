#include <gtest/gtest.h>

#include "tests/report/rules/load_scene.h"

namespace provecut {
namespace {

struct Slim : LoadScene {
  void bends(double mm, float force_n = 24.5F) {
    feed({right ? 80.0 : 20.0, 20, -3});
    right = !right;
    MoveLoad load;
    load.chip_load_mm = 0.1F;
    load.force_n = force_n;
    load.deflection_mm = static_cast<float>(mm);
    loads(load);
  }
  bool right = true;
};

TEST(CutterDeflection, a_cut_that_bends_its_cutter_is_named) {
  Slim s;
  s.bends(0.15);
  s.bends(0.2);
  const auto findings = s.findings(cutter_deflection_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].moves, 2u);
  EXPECT_NEAR(*findings[0].amount, 0.2, 1e-6);
  EXPECT_EQ(findings[0].message, "the cut bends 6 mm flat by up to 0.2 mm (maximum 0.1 mm); it pushes with 24.5 N");
  // Half the bend. A cantilever in steps, 22 mm of flutes at 0.8 of 6 mm, then shank, loaded at half the depth: depth
  // times ((22 - l)^3 / 0.8^4 + (L - l)^3 - (22 - l)^3) falls to half at L 24.8. By depth nine tenths of half: at 1.25.
  EXPECT_EQ(findings[0].help,
            "Give it a stickout of 24 mm (now 35 mm) and set Z zero again. Or take no more than 1.2 mm per pass.");
}

// 35 mm of stickout less half of 3 mm: 33.5 mm. A shank of 2 mm bears 1500 pi 8 / 32 = 1178 N mm, so 35.2 N.
TEST(CutterDeflection, a_neck_that_would_snap_is_said_to_break) {
  Slim s;
  s.tool().shank_diameter_mm = 2;
  s.bends(4, 35);
  EXPECT_EQ(s.findings(cutter_deflection_rule).at(0).message,
            "the cut bends 6 mm flat by 4 mm (maximum 0.1 mm); it pushes with 35 N");
  s.bends(4.1, 36);
  EXPECT_EQ(s.findings(cutter_deflection_rule).at(0).message,
            "the cut breaks 6 mm flat: it would bend by up to 4.1 mm (maximum 0.1 mm); it pushes with 36 N");
}

// Hardwood: 25 h + 2 per mm. A 6.35 mm bit may take 0.28 mm: 9 against 22 at 0.8 mm, a share of 0.409.
TEST(CutterDeflection, what_only_too_thick_chips_bend_is_theirs) {
  Slim s;
  s.tool().diameter_mm = 6.35;
  s.bends(0.24);
  s.programRun().loads.back().max_chip_thickness_mm = 0.8F;
  EXPECT_TRUE(s.findings(cutter_deflection_rule).empty());
  EXPECT_EQ(s.findings(chip_load_rule).size(), 1u);
  s.programRun().loads.back().deflection_mm = 0.25F;  // 0.102 mm at the right chips
  EXPECT_EQ(s.findings(cutter_deflection_rule).size(), 1u);
}

TEST(CutterDeflection, a_tenth_is_allowed_and_a_little_more_is_not) {
  Slim s;
  s.bends(0.1);
  EXPECT_TRUE(s.findings(cutter_deflection_rule).empty());
  s.bends(0.1001);
  EXPECT_EQ(s.findings(cutter_deflection_rule).size(), 1u);
}

TEST(CutterDeflection, the_job_sets_the_limit) {
  Slim s;
  s.bends(0.1001);
  s.job().limits.max_deflection_mm = 0.2;
  EXPECT_TRUE(s.findings(cutter_deflection_rule).empty());
}

TEST(CutterDeflection, without_a_job_file_the_stick_out_is_not_known) {
  Slim s;
  s.bends(3);
  s.job().file.clear();
  EXPECT_TRUE(s.findings(cutter_deflection_rule).empty());
}

TEST(CutterDeflection, the_force_named_is_that_of_the_worst_move) {
  // Fewer newtons low down bend more than many near the collet.
  for (const bool worst_first : {false, true}) {
    Slim s;
    if (worst_first) s.bends(0.2, 18);
    s.bends(0.15, 40);
    if (!worst_first) s.bends(0.2, 18);
    const auto findings = s.findings(cutter_deflection_rule);
    ASSERT_EQ(findings.size(), 1u);
    EXPECT_NE(findings[0].message.find("18 N"), std::string::npos) << findings[0].message;
    EXPECT_EQ(findings[0].message.find("40 N"), std::string::npos) << findings[0].message;
  }
}

}  // namespace
}  // namespace provecut
