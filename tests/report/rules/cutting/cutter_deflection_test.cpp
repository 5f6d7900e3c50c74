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
  EXPECT_EQ(findings[0].message, "6 mm flat is bent up to 0.200 mm by 24.5 N, sticking out 35.0 mm; 0.100 mm at most");
  EXPECT_EQ(findings[0].help, "Push it up into the collet, or take 50 % of this depth.");
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
    EXPECT_NE(findings[0].message.find("18.0 N"), std::string::npos) << findings[0].message;
    EXPECT_EQ(findings[0].message.find("40.0 N"), std::string::npos) << findings[0].message;
  }
}

}  // namespace
}  // namespace provecut
