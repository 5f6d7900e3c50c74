#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// Stock 18, spoilboard 18, zero on top: surface of the spoilboard at Z -18, its underside at Z -36.
struct Board : Scene {
  Board() { job().spoilboard.thickness_mm = 18; }
};

TEST(BedHit, a_plunge_through_the_spoilboard_reaches_the_bed) {
  Board s;
  s.feed({50, 50, 2});
  s.feed({50, 50, -37.25});
  s.feed({80, 50, -37.25});
  s.rapid({80, 50, 20});
  const auto findings = s.findings(bed_hit_rule);
  ASSERT_EQ(findings.size(), 1u);
  const Finding& f = findings[0];
  EXPECT_EQ(f.level, Level::stop);
  EXPECT_EQ(f.place.line, 2u);
  EXPECT_EQ(f.last_line, 4u);
  EXPECT_EQ(f.moves, 3u);
  EXPECT_NEAR(*f.amount, 1.25, 1e-9);
  EXPECT_EQ(*f.at, (WorkPoint{50, 50, -37.25}));
}

TEST(BedHit, the_underside_itself_is_not_below_it) {
  Board s;
  s.feed({50, 50, -36});
  EXPECT_TRUE(s.findings(bed_hit_rule).empty());
}

TEST(BedHit, a_micrometre_below_the_underside_is) {
  Board s;
  s.feed({50, 50, -36.001});
  ASSERT_EQ(s.findings(bed_hit_rule).size(), 1u);
  EXPECT_NE(s.findings(bed_hit_rule)[0].message.find("0.001 mm"), std::string::npos);
}

TEST(BedHit, the_lowest_point_of_an_upright_arc_counts_not_its_ends) {
  Board s;
  s.feed({40, 50, -30});
  // Half a circle of radius 6.5 hanging below its ends: lowest at Z -36.5 (geometry).
  s.arc({53, 50, -30}, {-30, 46.5}, Plane::zx, false);
  s.arc({40, 50, -30}, {-30, 46.5}, Plane::zx, false);
  const auto findings = s.findings(bed_hit_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].moves, 1u);
  EXPECT_NEAR(*findings[0].amount, 0.5, 1e-9);
  EXPECT_NEAR(findings[0].at->x, 46.5, 1e-9);
}

TEST(BedHit, the_height_of_the_bed_follows_zero_and_lift) {
  Board s;
  s.setup().zero_mm = {0, 0, 0};  // zero on the underside of the stock
  s.setup().lift_mm = 10;
  s.feed({50, 50, -28});
  EXPECT_TRUE(s.findings(bed_hit_rule).empty());
  s.feed({50, 50, -28.5});
  ASSERT_EQ(s.findings(bed_hit_rule).size(), 1u);
  EXPECT_NEAR(*s.findings(bed_hit_rule)[0].amount, 0.5, 1e-9);
}

TEST(BedHit, in_an_inch_program_the_height_is_given_as_its_own_number_too) {
  Scene s;
  s.program().modal.ever_inch = true;
  s.program().modal.ever_mm = false;
  s.feed({10, 10, -40});
  // 18 mm of stock and 0.3 mm into the spoilboard; -0.72047 in rounded up.
  EXPECT_EQ(s.findings(bed_hit_rule).at(0).help,
            "Cut no deeper than Z -18.3 mm (Z-0.7204 in this inch program). Or correct the job file: the zero, the "
            "stock's thickness, the spoilboard's thickness.");
}

}  // namespace
}  // namespace provecut
