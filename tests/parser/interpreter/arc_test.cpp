#include "parser/program/arc.h"

#include <cmath>
#include <numbers>

#include "tests/parser/interpreter/reading_helper.h"

namespace provecut {
namespace {

constexpr double degree = std::numbers::pi / 180;

Motion lastOf(const std::string& text) {
  const Program p = interpret("G21 G90 F100\n" + text + "\nM2");
  EXPECT_FALSE(p.motions.empty());
  return p.motions.empty() ? Motion{} : p.motions.back();
}

// E15a and E15b, NISTIR 6556 3.5.3.1; centre and sweep follow from the geometry of the chord.
TEST(Arc, by_radius_the_short_way_and_the_long_way) {
  const Motion shorter = lastOf("G0 X0 Y0 Z5\nG17 G2 x 10 y 15 r 20 z 5");
  EXPECT_EQ(shorter.kind, MotionKind::arc_cw);
  EXPECT_NEAR(shorter.centre.x, 19.855069, 5e-7);
  EXPECT_NEAR(shorter.centre.y, -2.403379, 5e-7);
  EXPECT_NEAR(sweepOf(shorter), 53.576426 * degree, 1e-8);
  const Motion longer = lastOf("G0 X0 Y0 Z5\nG17 G2 x 10 y 15 r -20 z 5");
  EXPECT_NEAR(longer.centre.x, -9.855069, 5e-7);
  EXPECT_NEAR(longer.centre.y, 17.403380, 1e-6);
  EXPECT_NEAR(sweepOf(longer), 306.423574 * degree, 1e-8);
}

// NISTIR 6556 3.5.3.2.
TEST(Arc, by_centre) {
  const Motion m = lastOf("G0 X7 Y7 Z9\nG17 G2 x 10 y 16 i 3 j 4 z 9");
  EXPECT_EQ(m.centre, (WorkPoint2{10, 11}));
  EXPECT_EQ(m.end, (WorkPoint{10, 16, 9}));
  EXPECT_NEAR(sweepOf(m), 143.130102 * degree, 1e-8);
  EXPECT_NEAR(arcLength(m), 12.490458, 5e-7);
}

TEST(Arc, a_full_circle_where_end_and_start_agree) {
  for (const char* text : {"G2 I5", "G2 X0 Y0 I5", "G3 J-3"}) {
    const Motion m = lastOf(std::string("G0 X0 Y0 Z0\n") + text);
    EXPECT_DOUBLE_EQ(sweepOf(m), 2 * std::numbers::pi) << text;
    EXPECT_EQ(m.turns, 1) << text;
  }
}

// NISTIR 6556 3.5.3: in G18 the ordered pair is Z, X; seen from +Y a clockwise arc turns from Z+ to X-.
TEST(Arc, planes_turn_as_seen_from_their_normals_positive_end) {
  const Motion xz = lastOf("G0 X0 Y0 Z0\nG18 G2 X10 Z-10 I0 K-10");
  EXPECT_EQ(xz.plane, Plane::zx);
  EXPECT_EQ(xz.centre, (WorkPoint2{-10, 0}));
  EXPECT_NEAR(sweepOf(xz), 270 * degree, 1e-12);
  const Motion xz_short = lastOf("G0 X0 Y0 Z0\nG18 G3 X10 Z-10 I0 K-10");
  EXPECT_NEAR(sweepOf(xz_short), 90 * degree, 1e-12);
  const Motion yz = lastOf("G0 X0 Y10 Z0\nG19 G3 Y0 Z10 J-10 K0");
  EXPECT_EQ(yz.plane, Plane::yz);
  EXPECT_EQ(yz.centre, (WorkPoint2{0, 0}));
  EXPECT_NEAR(sweepOf(yz), 90 * degree, 1e-12);
}

TEST(Arc, absolute_centres_with_g90_1) {
  const Motion m = lastOf("G0 X10 Y0 Z0\nG90.1 G3 X0 Y10 I0 J0");
  EXPECT_EQ(m.centre, (WorkPoint2{0, 0}));
  EXPECT_NEAR(sweepOf(m), 90 * degree, 1e-12);
}

TEST(Arc, radii_that_differ_beyond_the_tolerance_are_said_and_followed) {
  const Program p = interpret("G21 G90 F100 G0 X10 Y0 Z0\nG3 X0 Y10.1 I-10\nM2");
  ASSERT_THAT(idsOf(p), testing::ElementsAre("arc-radius"));
  EXPECT_EQ(p.problems[0].kind, ProblemKind::arc_radii_differ);
  EXPECT_NEAR(factOf<fact::Length>(p.problems[0], 0).mm, 10, 1e-12);
  EXPECT_NEAR(factOf<fact::Length>(p.problems[0], 1).mm, 10.1, 1e-12);
  ASSERT_FALSE(p.motions.empty());
  EXPECT_EQ(p.motions.back().centre, (WorkPoint2{0, 0}));
  EXPECT_EQ(p.motions.back().end, (WorkPoint{0, 10.1, 0}));
}

// NISTIR 6556 3.5.3.2: 0.002 mm, or 0.0002 inch.
TEST(Arc, the_strict_tolerance_is_the_standards) {
  const auto problems = [](const char* end) {
    return strictly(std::string("G21 G90 F100 G0 X10 Y0 Z0\nG3 X0 Y") + end + " I-10\nM2").problems.size();
  };
  EXPECT_EQ(problems("10.0019"), 0u);
  EXPECT_EQ(problems("10.0021"), 1u);
}

TEST(Arc, absolute_centres_read_as_increments_are_suspected) {
  const Program p = interpret("G21 G90 F100 G0 X41.298 Y40.315 Z0\nG3 X39.9 Y40.883 I40.599 J40.599\nM2");
  ASSERT_NE(find(p, "arc-radius"), nullptr);
  EXPECT_EQ(find(p, "arc-radius")->kind, ProblemKind::arc_radii_differ_unless_absolute);
}

TEST(Arc, increments_read_as_absolute_centres_are_suspected) {
  const Program p = interpret("G21 G90 G90.1 F100 G0 X41.298 Y40.315 Z0\nG3 X39.9 Y40.883 I-0.699 J0.284\nM2");
  ASSERT_NE(find(p, "arc-radius"), nullptr);
  EXPECT_EQ(find(p, "arc-radius")->kind, ProblemKind::arc_radii_differ_unless_incremental);
  // Where neither way agrees, neither is named.
  const Program neither = interpret("G21 G90 F100 G0 X41.298 Y40.315 Z0\nG3 X39.9 Y40.883 I17 J5\nM2");
  ASSERT_NE(find(neither, "arc-radius"), nullptr);
  EXPECT_EQ(find(neither, "arc-radius")->kind, ProblemKind::arc_radii_differ);
}

TEST(Arc, a_helix_keeps_its_rise_and_length) {
  const Motion m = lastOf("G0 X10 Y0 Z0\nG3 X-10 Y0 Z-3 I-10");
  EXPECT_EQ(m.end.z, -3);
  EXPECT_DOUBLE_EQ(arcLength(m), std::hypot(10 * std::numbers::pi, 3.0));
}

TEST(Arc, arcs_that_cannot_be_drawn_are_said) {
  const std::pair<const char*, const char*> cases[] = {
      {"G2 X5", "arc-centre-missing"}, {"G2 X0 Y0 R5", "arc-ends-at-start"},  {"G2 X5 I0 J0", "arc-faulty"},
      {"G2 X5 R0", "arc-faulty"},      {"G2 X20 R5", "arc-radius-too-short"}, {"G2 X20 R10 I10", "arc-two-formats"}};
  for (const auto& [bad, id] : cases) {
    const Program p = interpret(std::string("G21 G90 F100 G0 X0 Y0 Z0\n") + bad + "\nM2");
    EXPECT_NE(find(p, id), nullptr) << bad;
  }
}

// NISTIR 6556 3.5.3: the sweep is above 0 and up to a whole turn, so that an end behind the start is nearly one.
TEST(Arc, a_whole_circle_that_rounding_may_have_made_is_doubted) {
  const auto doubted = [](const std::string& arcs) {
    return find(interpret("G21 G90 G17 F100 G0 X60 Y50 Z0\n" + arcs + "\nM2"), "arc-whole-circle-doubt") != nullptr;
  };
  const std::string before = "G3 X59.9995 Y50.1 I-10 J0\n";
  EXPECT_TRUE(doubted(before + "G3 X59.9995 Y50.099 I-9.9995 J-0.1"));
  EXPECT_TRUE(doubted(before + "G3 X59.9995 Y50.1 I-9.9995 J-0.1"));
  EXPECT_TRUE(doubted("G2 X59.9995 Y49.9 I-10 J0\nG2 X59.9995 Y49.901 I-9.9995 J0.1"));
  EXPECT_TRUE(doubted("G41 D0\n" + before + "G3 X59.9995 Y50.099 I-9.9995 J-0.1"));
  // Ahead of its start; farther behind it; after an arc about another centre, or none: as meant.
  EXPECT_FALSE(doubted(before + "G3 X59.9995 Y50.101 I-9.9995 J-0.1"));
  EXPECT_FALSE(doubted(before + "G3 X59.9995 Y50.09 I-9.9995 J-0.1"));
  EXPECT_FALSE(doubted("G3 X59.9995 Y50.1 I-5 J0.1\nG3 X59.9995 Y50.099 I-9.9995 J-0.1"));
  EXPECT_FALSE(doubted("G3 X60 Y49.999 I-10 J0"));
  EXPECT_FALSE(doubted(before + "G3 X59.9995 Y50.099 Z-1 I-9.9995 J-0.1"));  // a turn of a helix
  // A tiny circle may well end a thousandth before its start.
  EXPECT_FALSE(doubted("G3 X59.9995 Y50.001 I-0.005 J0\nG3 X60 Y50 I-0.0045 J-0.001"));
}

}  // namespace
}  // namespace provecut
