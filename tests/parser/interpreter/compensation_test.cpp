#include <cmath>
#include <cstdio>
#include <numbers>
#include <random>

#include "parser/program/arc.h"
#include "tests/parser/interpreter/reading_helper.h"

namespace provecut {
namespace {

ExpectedMove A(MotionKind kind, double x, double y) {
  return {kind, {x, y, 0}};
}
ExpectedMove cw(double x, double y) {
  return A(MotionKind::arc_cw, x, y);
}
ExpectedMove ccw(double x, double y) {
  return A(MotionKind::arc_ccw, x, y);
}

Program compensated(const std::string& path, double diameter, const char* side = "G41") {
  std::string text = "G21 G17 G90 F100 T1 M6\n" + path + "\nG40\nM2\n";
  for (std::size_t at; (at = text.find("G4x")) != std::string::npos;) text.replace(at, 3, side);
  return interpret(text, {.tool_diameter_mm = {{1, diameter}}});
}

const char* const edge_contour =
    "G0 Z0\nG1 X1 Y5\nG4x G1 Y4\nG3 X2 Y3 I1\nG2 X3 Y2 J-1\nG1 Y-1\nG2 X2 Y-2 I-1\nG1 X-2\nG2 X-2.6 Y-0.2 J1\nG1 X1.4 "
    "Y2.8\n"
    "G2 X2 Y3 I0.6 J-0.8";

// NISTIR 6556 B.3.1.1, Table 12; the end points from the second arc on are those of its Table 13, the entry
// follows from B.6.
TEST(Compensation, the_standards_contour_on_the_material_edge) {
  const Program p = compensated(edge_contour, 1.0);
  expectSteps(movesFrom(p, 1),
              {F(1, 5, 0), F(1.433013, 4.25, 0), cw(1.5, 4), ccw(2, 3.5), cw(3.5, 2), F(3.5, -1, 0), cw(2, -2.5),
               F(-2, -2.5, 0), cw(-2.9, 0.2), F(1.1, 3.2, 0), cw(2, 3.5)},
              1e-6);
  EXPECT_EQ(p.motions[3].centre, (WorkPoint2{1, 4}));
  EXPECT_TRUE(p.problems.empty());
}

// NISTIR 6556 B.3.1.2: the simple entry.
TEST(Compensation, the_standards_simple_entry) {
  const Program p = compensated("G0 Z0\nG1 X1.5 Y4\nG4x G1 X3 Y3\nG1 Y-1\nG2 X2 Y-2 I-1\nG1 X-2", 1.0);
  expectSteps(movesFrom(p, 1),
              {F(1.5, 4, 0), F(3.151085, 3.476627, 0), cw(3.5, 3), F(3.5, -1, 0), cw(2, -2.5), F(-2, -2.5, 0)}, 1e-6);
}

// NISTIR 6556 B.4, Table 13: diameter 0 leaves the path as written, -0.03 runs on the other side by 0.015.
TEST(Compensation, the_standards_nominal_path_with_a_small_or_negative_diameter) {
  const char* path =
      "G0 Z0\nG1 X1.5 Y5\nG4x G1 Y4\nG3 X2 Y3.5 I0.5\nG2 X3.5 Y2 J-1.5\nG1 Y-1\nG2 X2 Y-2.5 I-1.5\nG1 X-2\n"
      "G2 X-2.9 Y0.2 J1.5\nG1 X1.1 Y3.2\nG2 X2 Y3.5 I0.9 J-1.2";
  expectSteps(movesFrom(compensated(path, 0), 1),
              {F(1.5, 5, 0), F(1.5, 4, 0), ccw(2, 3.5), cw(3.5, 2), F(3.5, -1, 0), cw(2, -2.5), F(-2, -2.5, 0),
               cw(-2.9, 0.2), F(1.1, 3.2, 0), cw(2, 3.5)});
  const Program worn = compensated(path, -0.03);
  const std::vector<Motion> moves = movesFrom(worn, 1);
  ASSERT_GE(moves.size(), 8u);
  expectSteps({moves.end() - 8, moves.end()},
              {ccw(2, 3.485), cw(3.485, 2), F(3.485, -1, 0), cw(2, -2.485), F(-2, -2.485, 0), cw(-2.891, 0.188),
               F(1.109, 3.188, 0), cw(2, 3.485)},
              1e-9);
}

// A square pocket from inside: each corner is the crossing of the two offset lines, by plane geometry.
TEST(Compensation, inside_corners_are_cut_to_the_crossing_of_the_offset_lines) {
  const Program p = compensated("G0 X20 Y20 Z0\nG4x G1 X20 Y0\nX40\nY40\nX0\nY0\nX20", 6);
  const std::vector<Motion> moves = movesFrom(p, 1);
  ASSERT_EQ(moves.size(), 6u);
  const WorkPoint2 expected[] = {{20, 3}, {37, 3}, {37, 37}, {3, 37}, {3, 3}, {20, 3}};
  for (std::size_t i = 0; i < 6; ++i) {
    EXPECT_NEAR(moves[i].end.x, expected[i].x, 1e-9) << i;
    EXPECT_NEAR(moves[i].end.y, expected[i].y, 1e-9) << i;
  }
  EXPECT_TRUE(p.problems.empty());
}

TEST(Compensation, on_the_right_is_the_mirror_of_on_the_left) {
  const Program left = compensated(edge_contour, 0.8);
  std::string mirrored = edge_contour;  // X and I change their sign, G2 and G3 each other
  std::string text;
  for (std::size_t i = 0; i < mirrored.size(); ++i) {
    if (mirrored.compare(i, 2, "G2") == 0) {
      text += "G3";
      ++i;
    } else if (mirrored.compare(i, 2, "G3") == 0) {
      text += "G2";
      ++i;
    } else if ((mirrored[i] == 'X' || mirrored[i] == 'I')) {
      text += mirrored[i];
      if (mirrored[i + 1] == '-')
        ++i;
      else
        text += '-';
    } else {
      text += mirrored[i];
    }
  }
  const Program right = compensated(text, 0.8, "G42");
  ASSERT_EQ(left.motions.size(), right.motions.size());
  for (std::size_t i = 0; i < left.motions.size(); ++i) {
    EXPECT_NEAR(left.motions[i].end.x, -right.motions[i].end.x, 1e-12) << i;
    EXPECT_NEAR(left.motions[i].end.y, right.motions[i].end.y, 1e-12) << i;
  }
}

TEST(Compensation, a_corner_too_tight_for_the_tool_is_said) {
  // A slot 4 wide for a cutter of 6.
  const Program p = compensated("G0 X-10 Y5 Z0\nG4x G1 X0 Y0\nX20\nY4\nX0", 6);
  EXPECT_NE(find(p, "compensation-faulty"), nullptr);
  EXPECT_FALSE(p.read_whole);
}

TEST(Compensation, an_inside_arc_smaller_than_the_tool_is_said) {
  const Program p = compensated("G0 X-10 Y0 Z0\nG4x G1 X0 Y0\nX20\nG3 X22 Y2 J2\nG1 Y20", 6);
  ASSERT_NE(find(p, "compensation-faulty"), nullptr);
  EXPECT_EQ(find(p, "compensation-faulty")->place.line, 5u);
}

TEST(Compensation, the_first_move_must_be_longer_than_the_radius) {
  EXPECT_NE(find(compensated("G0 X0 Y0 Z0\nG4x G1 X2 Y0\nY20", 6), "compensation-faulty"), nullptr);
  EXPECT_EQ(find(compensated("G0 X0 Y0 Z0\nG4x G1 X3.1 Y0\nY20", 6), "compensation-faulty"), nullptr);
}

// NISTIR 6556 B.6: the cutter must touch the arc about the same centre where it stands.
TEST(Compensation, a_first_arc_stays_touching_its_auxiliary_arc) {
  // Part: circle of radius 10 about 0,0, clockwise with the tool outside; the tool starts at distance 13.
  const Program p = compensated("G0 X0 Y13 Z0\nG4x G2 X10 Y0 I0 J-13\nX0 Y-10 I-10", 6);
  const std::vector<Motion> moves = movesFrom(p, 1);
  ASSERT_EQ(moves.size(), 2u);
  EXPECT_NEAR(moves[0].end.x, 13, 1e-9);
  EXPECT_NEAR(moves[0].end.y, 0, 1e-9);
  EXPECT_NEAR(moves[1].end.y, -13, 1e-9);
  EXPECT_TRUE(p.problems.empty());
  EXPECT_NE(find(compensated("G0 X0 Y15 Z0\nG4x G2 X10 Y0 I0 J-15", 6), "compensation-faulty"), nullptr);
}

TEST(Compensation, depth_moves_stay_beside_the_same_point) {
  const Program p = compensated("G0 X0 Y-10 Z5\nG4x G1 X0 Y0\nX0 Y10\nZ-3\nX20", 6);
  const std::vector<Motion> moves = movesFrom(p, 1);
  // Entry and its arc, up along X -3, down there, around the outside corner, along Y 13.
  ASSERT_EQ(moves.size(), 6u);
  EXPECT_NEAR(moves[2].end.x, -3, 1e-9);
  EXPECT_NEAR(moves[3].end.x, -3, 1e-9);
  EXPECT_NEAR(moves[3].end.z, -3, 1e-9);
  EXPECT_EQ(moves[4].kind, MotionKind::arc_cw);
  EXPECT_NEAR(moves[5].end.y, 13, 1e-9);
  EXPECT_NEAR(moves[5].end.z, -3, 1e-9);
}

TEST(Compensation, an_arc_that_ends_at_its_own_centre_is_said_and_gone_to_straight) {
  const Program p = compensated("G0 Z0\nG1 X0 Y0\nG4x G1 X10\nG1 X20\nG3 X25 I5 J0\nG1 X40", 3);
  ASSERT_FALSE(p.problems.empty());
  for (const Motion& m : p.motions) {
    EXPECT_TRUE(std::isfinite(m.end.x) && std::isfinite(m.end.y)) << "line " << m.line;
  }
  ASSERT_FALSE(p.motions.empty());
  EXPECT_EQ(p.motions.back().end.x, 40);
}

// NISTIR 6556 3.5.10 and B.5.2: the side or the D is changed by way of G40.
TEST(Compensation, changing_the_side_without_g40_is_said) {
  const char* path = "G0 X-10 Y0 Z0\nG41 D1 G1 X0\nX20\n";
  const auto changed = [&](const std::string& line) {
    return interpret("G21 G17 G90 F100 T1 M6\n" + (path + line) + "\nX60\nG40\nM2",
                     {.tool_diameter_mm = {{1, 6}, {2, 8}}});
  };
  for (const char* line : {"G42 D1 X40", "G42 X40", "G41 D2 X40"}) {
    const Program p = changed(line);
    ASSERT_NE(find(p, "compensation-misplaced"), nullptr) << line;
    EXPECT_EQ(find(p, "compensation-misplaced")->place.line, 5u);
  }
  // Named again it stays as it is.
  const Program again = changed("G41 D1 X40");
  EXPECT_TRUE(again.problems.empty());
  EXPECT_EQ(again.motions.size(), changed("X40").motions.size());
}

TEST(Compensation, without_a_diameter_the_path_is_followed_as_written_and_that_is_said) {
  const Program p = interpret("G21 G17 G90 F100\nG0 X0 Y0 Z0\nG41 D7 G1 X10\nY10\nG40\nM2");
  EXPECT_NE(find(p, "compensation-diameter-unknown"), nullptr);
  EXPECT_FALSE(p.read_whole);
  expectSteps(movesFrom(p, 1), {F(10, 0, 0), F(10, 10, 0)});
}

// NISTIR 6556 3.5.10: D0 asks for a radius of zero; no tool needs to be known for it.
TEST(Compensation, d0_runs_on_the_path_itself) {
  const Program p = interpret("G21 G17 G90 F100\nG0 X0 Y0 Z0\nG41 D0 G1 X10\nY10\nG40\nM2");
  EXPECT_TRUE(p.problems.empty());
  EXPECT_TRUE(p.read_whole);
  expectSteps(movesFrom(p, 1), {F(10, 0, 0), F(10, 10, 0)});
  // Without D it is the tool in the spindle that must be known, and there is none.
  const Program none = interpret("G21 G17 G90 F100\nG0 X0 Y0 Z0\nG41 G1 X10\nY10\nG40\nM2");
  EXPECT_NE(find(none, "compensation-diameter-unknown"), nullptr);
  const Program below = interpret("G21 G17 G90 F100\nG0 X0 Y0 Z0\nG41 D-1 G1 X10\nY10\nG40\nM2");
  EXPECT_NE(find(below, "compensation-misplaced"), nullptr);
}

// ---- Rounded outlines. Their arcs go on smoothly but for rounding, which must not be taken for corners (NISTIR 6556
// B.5.1).

struct RoundedRectangle {
  double width, height, radius, angle;
  WorkPoint2 at(double x, double y) const {  // from its lower left corner
    x -= width / 2;
    y -= height / 2;
    return {x * std::cos(angle) - y * std::sin(angle), x * std::sin(angle) + y * std::cos(angle)};
  }
  // How far a point is outside, below 0 inside.
  double outside(WorkPoint2 p) const {
    const double x = std::abs(p.x * std::cos(angle) + p.y * std::sin(angle)) - width / 2 + radius;
    const double y = std::abs(p.y * std::cos(angle) - p.x * std::sin(angle)) - height / 2 + radius;
    return std::hypot(std::fmax(x, 0), std::fmax(y, 0)) + std::fmin(std::fmax(x, y), 0) - radius;
  }
};

std::string rounded(double value, int decimals) {
  char text[32];
  std::snprintf(text, sizeof text, "%.*f", decimals, value);
  return text;
}

// Counter-clockwise from the middle of the lower edge to 1 mm past it.
std::string programOf(const RoundedRectangle& o, bool by_radius, int decimals) {
  const auto word = [&](const char* letter, double value) { return letter + rounded(value, decimals); };
  const auto xy = [&](WorkPoint2 p) { return word("X", p.x) + word("Y", p.y); };
  const auto held = [&](double v) { return std::stod(rounded(v, decimals)); };
  std::string text = "G0 Z0 " + xy(o.at(o.width / 2 - 10, 0)) + "\nG4x G1" + xy(o.at(o.width / 2, 0)) + "\n";
  const double w = o.width, h = o.height, r = o.radius;
  const Vec2 starts[] = {{w - r, 0}, {w, h - r}, {r, h}, {0, r}}, ends[] = {{w, r}, {w - r, h}, {0, h - r}, {r, 0}},
             centres[] = {{w - r, r}, {w - r, h - r}, {r, h - r}, {r, r}};
  for (int i = 0; i < 4; ++i) {
    const WorkPoint2 start = o.at(starts[i].x, starts[i].y), centre = o.at(centres[i].x, centres[i].y);
    text += "G1" + xy(start) + "\nG3" + xy(o.at(ends[i].x, ends[i].y));
    text += by_radius ? word("R", r) : word("I", centre.x - held(start.x)) + word("J", centre.y - held(start.y));
    text += "\n";
  }
  return text + "G1" + xy(o.at(w / 2 + 1, 0));
}

WorkPoint2 along(const Motion& m, double share) {
  if (!isArc(m)) return flat(m.start) + (flat(m.end) - flat(m.start)) * share;
  const Vec2 from = flat(m.start) - m.centre;
  const double a = sweepOf(m) * share * (m.kind == MotionKind::arc_cw ? -1 : 1);
  return m.centre + Vec2{from.x * std::cos(a) - from.y * std::sin(a), from.x * std::sin(a) + from.y * std::cos(a)};
}

TEST(Compensation, rounded_outlines_have_no_corners_whatever_their_last_decimals) {
  std::mt19937 random(17);
  const auto between = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(random() % 100'000) / 1e5;
  };
  for (int round = 0; round < 2000; ++round) {
    const bool outside = round % 2 == 0, by_radius = round % 5 == 0;
    const int decimals = round % 4 < 2 ? 3 : 4;
    const RoundedRectangle o{between(40, 80), between(40, 80), between(outside ? 0.5 : 3.2, 12), between(0, 6.28)};
    const std::string path = programOf(o, by_radius, decimals);
    for (const bool strict : {false, true}) {
      InterpreterOptions options{.strict = strict, .tool_diameter_mm = {{1, 6}}};
      std::string text = "G21 G17 G90 F100 T1 M6\n" + path + "\nG40\nM2\n";
      text.replace(text.find("G4x"), 3, outside ? "G42" : "G41");
      const Program p = interpret(text, options);
      ASSERT_EQ(find(p, "compensation-faulty"), nullptr) << text;
      double way = 0;
      for (const Motion& m : p.motions) {
        const bool onto_the_edge = m.line < 4 || (m.line == 4 && isArc(m));
        if (onto_the_edge) continue;
        way += pathLength(m);
        for (int i = 0; i <= 16; ++i)
          EXPECT_NEAR(o.outside(along(m, i / 16.0)), outside ? 3 : -3, 0.005) << "line " << m.line << "\n" << text;
      }
      const double corner = o.radius + (outside ? 3 : -3);
      EXPECT_NEAR(way, 2 * (o.width + o.height - 4 * o.radius) + 2 * std::numbers::pi * corner + 1, 0.05) << text;
      if (::testing::Test::HasFailure()) return;
    }
  }
}

TEST(Compensation, a_smooth_join_of_three_decimals_is_no_corner) {
  const char* path =
      "G0 X83.361 Y57.413 Z0\nG42 D1 G1 X82.821 Y86.898\nG3 X82.322 Y95.426 I-4.514 J4.014\nG1 X51.813 Y122.564";
  EXPECT_EQ(find(compensated(path, 6), "compensation-faulty"), nullptr);
}

// NISTIR 6556 B.5.1: what rounding cannot have made is a corner, however flat.
TEST(Compensation, flat_inside_corners_are_corners) {
  for (const char* bend : {"X200 Y1", "X200 Y10", "X100 Y100"}) {
    const std::string text = std::string("G21 G17 G90 F100\nG0 X-10 Y0 Z0\nG41 D1 G1 X0\nX100\n") + bend + "\nG40\nM2";
    const InterpreterOptions options{.tool_diameter_mm = {{1, 6}}};
    const Program strict = strictly(text, options);
    ASSERT_NE(find(strict, "compensation-faulty"), nullptr) << bend;
    EXPECT_EQ(find(strict, "compensation-faulty")->place.line, 5u);
    EXPECT_TRUE(interpret(text, options).problems.empty()) << bend;
  }
}

TEST(Compensation, a_move_as_short_as_rounding_has_no_direction) {
  const Program p = compensated("G0 X-10 Y0 Z0\nG4x G1 X0\nX20\nX20.001 Y0.001\nX40 Y0", 6);
  EXPECT_TRUE(p.problems.empty());
  const std::vector<Motion> moves = movesFrom(p, 1);
  for (std::size_t i = 2; i < moves.size(); ++i) EXPECT_NEAR(moves[i].end.y, 3, 0.002);
  ASSERT_FALSE(moves.empty());
  EXPECT_NEAR(moves.back().end.x, 40, 0.002);
}

// A whole circle stays one, a tiny arc a tiny one, where rounding bends the join before it either way.
TEST(Compensation, rounding_makes_no_circle_of_an_arc_nor_an_arc_of_a_circle) {
  for (const char* bend : {"0.001", "0", "-0.001"}) {
    const std::string edge = std::string("G0 X-20 Y0 Z0\nG4x G1 X-10 Y") + bend + "\nX0 Y0\n";
    const Program whole = compensated(edge + "G3 X0 Y0 I0 J10\nG1 X10", 6);
    EXPECT_TRUE(whole.problems.empty());
    double way = 0;
    for (const Motion& m : whole.motions) {
      if (isArc(m) && m.centre == WorkPoint2{0, 10}) way += arcLength(m);
    }
    EXPECT_NEAR(way, 2 * std::numbers::pi * 7, 0.02) << bend;
    const Program tiny = compensated(edge + "G3 X0.0005 Y0 I0 J10\nG1 X10", 6);
    EXPECT_TRUE(tiny.problems.empty());
    for (const Motion& m : tiny.motions) {
      if (isArc(m) && m.centre == WorkPoint2{0, 10}) {
        EXPECT_LT(arcLength(m), 0.01) << bend;
      }
    }
  }
}

// NISTIR 6556 3.5.19: a line under G93 lasts 1/F minutes, whatever corner arcs it has and wherever the next line ends
// it.
TEST(Compensation, a_line_in_inverse_time_lasts_as_long_as_it_says) {
  const Program p = compensated(
      "G0 X0 Y0 Z5\nG93\nG4x G1 X20 Y0 F1\nX40 F2\nY-20 F4\nG3 X60 I10 F5\nG2 X70 Y-30 I10 F8\nG1 X50 F10\nY-60 "
      "F20\nG94 G1 X40 F100",
      6);
  EXPECT_TRUE(p.problems.empty());
  const std::pair<std::uint32_t, double> lines[] = {{4, 1}, {5, 2}, {6, 4}, {7, 5}, {8, 8}, {9, 10}, {10, 20}};
  for (const auto& [line, f] : lines) {
    double minutes = 0;
    for (const Motion& m : p.motions) {
      if (m.line == line) minutes += pathLength(m) / static_cast<double>(m.feed_mm_min);
    }
    EXPECT_NEAR(minutes, 1 / f, 1e-6) << "line " << line;
  }
}

}  // namespace
}  // namespace provecut
