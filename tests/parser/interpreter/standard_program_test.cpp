// The worked examples and whole programs that NISTIR 6556 prints.
#include <cmath>
#include <numbers>

#include "parser/program/arc.h"
#include "tests/parser/interpreter/reading_helper.h"

namespace provecut {
namespace {

constexpr double degree = std::numbers::pi / 180;

TEST(StandardExample, codes_may_be_computed) {  // NISTIR 6556 3.5: three ways to write one command
  for (const char* g10 : {"G10 L2", "G[2*5] L[1+1]", "G10 L#100"}) {
    const Program p = strictly("G21 G90\n#100=2\n" + std::string(g10) + " P2 X7\nG55\nG0 X0\nM2",
                               {.zero_in_machine = MachinePoint{0, 0, 0}});
    ASSERT_EQ(p.motions.size(), 1u) << g10;
    EXPECT_EQ(p.motions[0].end.x, 7) << g10;
    EXPECT_TRUE(p.problems.empty()) << g10;
  }
}

TEST(StandardExample, g10_sets_only_the_axes_named) {  // NISTIR 6556 3.5.5
  const Program p = strictly("G21 G90\nG10 L2 P1 x 3.5 y 17.2\nG0 X#5221 Y#5222 Z#5223\nM2",
                             {.zero_in_machine = MachinePoint{0, 0, 0}});
  ASSERT_EQ(p.motions.size(), 1u);
  EXPECT_EQ(p.motions[0].end, (WorkPoint{7, 34.4, 0}));  // the words are the parameters, counted from the zero they set
}

TEST(StandardExample, g92_stores_its_offset) {  // NISTIR 6556 3.5.18
  const Program p =
      strictly("G21 G90\nG0 X4 Y0 Z0\nG92 X7\n#1=#5211\nG92 X9\n#2=#5211\nG92.1\n#3=#5211\nG0 X#1 Y#2 Z#3\nM2");
  ASSERT_FALSE(p.motions.empty());
  EXPECT_EQ(p.motions.back().end, (WorkPoint{-3, -5, 0}));
}

TEST(StandardExample, g92_2_keeps_the_offset_and_g92_3_takes_it_up) {  // 3.5.18
  const Program p = strictly("G21 G90\nG0 X4 Y0 Z0\nG92 X7\nG92.2\nG0 X4\nG92.3\nG0 X4\nM2");
  EXPECT_EQ(p.motions[1].end.x, 4);
  EXPECT_EQ(p.motions[2].end.x, 1);  // offset -3
}

TEST(StandardExample, a_helix_by_radius) {  // NISTIR 6556 3.5.3.1
  const Program p = strictly("G21 G90 F100\nG0 X0 Y0 Z0\nG17 G2 x 10 y 15 r 20 z 5\nM2");
  ASSERT_FALSE(p.motions.empty());
  EXPECT_EQ(p.motions.back().end, (WorkPoint{10, 15, 5}));
  EXPECT_NEAR(arcLength(p.motions.back()), std::hypot(20 * 53.576426 * degree, 5), 1e-6);
}

// NISTIR 6556 5.1.2 Table 10. The tool's length does not move the tip here: with lengths set at the machine Z stays
// what the program said.
TEST(StandardSession, motions_of_the_reference_session) {
  const Program p = strictly(
      "g21 g90 g17\ng0 x0 y0 z0\ng1 x3 y1 f20.0\ng2 x[6-[4*3/2]] r 7.01 z0.5\n(that was a helical arc)\n"
      "t2\nm6 g43 h2\ng1 x asin[0.5]\ng1 x asim[0.5]\ng91 g81 x3 y2 z-0.8 r1.5 l2\nm2");
  const std::vector<Motion> moves = movesFrom(p, 1);
  ASSERT_EQ(moves.size(), 10u);
  EXPECT_EQ(moves[0].end, (WorkPoint{3, 1, 0}));
  EXPECT_FLOAT_EQ(moves[0].feed_mm_min, 20);
  EXPECT_EQ(moves[1].kind, MotionKind::arc_cw);
  EXPECT_NEAR(moves[1].end.x, 0, 1e-12);
  EXPECT_EQ(moves[1].end.y, 1);
  EXPECT_EQ(moves[1].end.z, 0.5);
  EXPECT_NEAR(moves[1].centre.x, 1.5, 5e-5);
  EXPECT_NEAR(moves[1].centre.y, 7.8476, 5e-5);
  EXPECT_NEAR(sweepOf(moves[1]), 24.711389 * degree, 1e-8);
  EXPECT_NEAR(arcLength(moves[1]), 3.064444, 1e-6);
  EXPECT_NEAR(moves[2].end.x, 30, 1e-12);
  EXPECT_EQ(moves[2].tool, 2);
  // The cycle, from Z 0.5 instead of the session's -0.5: all one unit higher.
  expectSteps({moves.begin() + 3, moves.end()},
              {T(30, 1, 2), T(33, 3, 2), F(33, 3, 1.2), T(33, 3, 2), T(36, 5, 2), F(36, 5, 1.2), T(36, 5, 2)});
  EXPECT_THAT(idsOf(p), testing::ElementsAre("syntax"));
}

const char* const lettering =
    "g21 g0 x0 y0 z50\nt1 m6 m3 f20 s4000\ng0 x0 y0 z2\ng1 z-0.5\ny10\ng0 z2\ny5\ng1 z-0.5\nx 7\ng0 z2\ny0\ng1 "
    "z-0.5\ny10\ng0 z2\n"
    "x11 y2.5\ng1 z-0.5\nx16\ng3 x13.5 y0 i-2.5\ng1 x16\ng0 z2\nx20 y0\ng1 z-0.5\ny9\ng0 z2\nx26\ng1 z-0.5\ny0\ng0 z2\n"
    "x32.5\ng1 z-0.5\ng2 x32.5 j2.5\ng0 z2\nx45 y5\ng1 z-0.5\nx47 y0\nx48.5 y3\nx50 y0\nx52 y5\ng0 z2\n"
    "x57.5 y0\ng1 z-0.5\ng2 x57.5 j2.5\ng0 z2\nx64\ng1 z-0.5\ny5\ny4\ng2 x69 r4\ng0 z2\n"
    "x73 y0\ng1 z-0.5\ny9\ng0 z2\nx81\ng1 z-0.5\ny0\nx79.5\ng2 j2.5 y5\ng1 x81\ng0 z50\nm2\n";

// NISTIR 6556 C.1. The report says that the text spans X 0 to 81; lengths follow from the words by plane geometry.
TEST(StandardProgram, lettering) {
  const Program p = strictly(std::string("g90 g17 g0 x0 y0 z0\n") + lettering);
  ASSERT_TRUE(p.problems.empty());
  double rapid = 0, feed = 0, arcs = 0;
  int rapids = 0, feeds = 0, arc_count = 0;
  WorkBox cut;
  std::vector<Motion> all_arcs;
  for (std::size_t i = 1; i < p.motions.size(); ++i) {
    const Motion& m = p.motions[i];
    if (isArc(m)) {
      arcs += arcLength(m);
      ++arc_count;
      all_arcs.push_back(m);
    } else if (m.kind == MotionKind::rapid) {
      rapid += length(m.end - m.start);
      ++rapids;
    } else {
      feed += length(m.end - m.start);
      ++feeds;
    }
    if (m.end.z < 0) cut.add(m.end);
  }
  EXPECT_EQ(rapids, 25);
  EXPECT_EQ(feeds, 29);
  EXPECT_EQ(arc_count, 5);
  EXPECT_NEAR(rapid, 252.052801, 1e-6);
  EXPECT_NEAR(feed, 126.978534, 1e-6);
  EXPECT_NEAR(arcs, 56.451933, 1e-6);
  EXPECT_NEAR((feed + arcs) / 20, 9.171523, 1e-6);  // minutes at F20
  EXPECT_EQ(cut.low.x, 0);
  EXPECT_EQ(cut.high.x, 81);
  const double sweeps[] = {270, 360, 360, 77.364375, 180};
  const WorkPoint2 centres[] = {{13.5, 2.5}, {32.5, 2.5}, {57.5, 2.5}, {66.5, 0.877501}, {79.5, 2.5}};
  ASSERT_EQ(all_arcs.size(), 5u);
  for (std::size_t i = 0; i < 5; ++i) {
    EXPECT_NEAR(sweepOf(all_arcs[i]), sweeps[i] * degree, 1e-8) << i;
    EXPECT_NEAR(all_arcs[i].centre.x, centres[i].x, 1e-6) << i;
    EXPECT_NEAR(all_arcs[i].centre.y, centres[i].y, 1e-6) << i;
  }
}

// NISTIR 6556 C.2, lines that set parameters: ##1 = 0.375 with #1 = 2; settings on the line of a move.
TEST(StandardProgram, settings_of_the_expression_program) {
  const Program p = strictly(
      "g21 g90 g1 x3 f20\n#1=2.0\nx [#1 ** 3.0]\n##1 = 0.375\n#3=7.0 x #2\n#3=5.0 x #3\nx #3 #3=1.1\nx #3\nm2");
  std::vector<double> xs;
  for (const Motion& m : p.motions) xs.push_back(m.end.x);
  EXPECT_THAT(xs, testing::ElementsAre(3, 8, 0.375, 7, 5, 1.1));
}

struct CycleLine {
  const char* text;
  double r;
  std::vector<Vec3> bottoms;  // along the plane's axes: first, second, normal
  double clear98, clear99;
  double dwell_s;
};

// NISTIR 6556 C.3 in inches; the report prints no motions: they follow from 3.5.16 with the sticky words taken as
// numbers, and under G98 with the level before each line as the old one.
const std::vector<CycleLine> cycle_lines = {
    {"g81 x3 y4 r0.2 z-1.1", 0.2, {{3, 4, -1.1}}, 0.2, 0.2, 0},
    {"x1 y0 r0 g91 l3", 0.2, {{4, 4, -0.9}, {5, 4, -0.9}, {6, 4, -0.9}}, 0.2, 0.2, 0},
    {"y-2 r0.1", 0.3, {{6, 2, -0.8}}, 0.3, 0.3, 0},
    {"g82 g90 x4 y5 r0.2 z-1.1 p0.6", 0.2, {{4, 5, -1.1}}, 0.3, 0.2, 0.6},
    {"x2 z-3.0", 0.2, {{2, 5, -3.0}}, 0.3, 0.2, 0.6},
};

std::string turned(std::string text, const std::string& letters) {
  for (char& c : text) {
    if (c == 'x' || c == 'y' || c == 'z') c = letters[static_cast<std::size_t>(c - 'x')];
  }
  return text;
}

// `letters`: what stands for x, y and z of the G17 program.
void checkCycles(const char* plane, const std::string& letters, const char* mode) {
  std::string text =
      std::string("g20 g90 f16 m3 s1234 ") + plane + "\n" + turned("g0 x0 y0 z0.2", letters) + "\n" + mode + "\n";
  for (const CycleLine& line : cycle_lines) text += turned(line.text, letters) + "\n";
  const Program p = strictly(text + "g80\nm2\n");
  // The second line takes a depth from the first into G91: as the report says, and told, since controllers differ.
  ASSERT_EQ(p.problems.size(), 1u) << plane;
  EXPECT_EQ(p.problems[0].id, "cycle-kept-increments");
  EXPECT_EQ(p.problems[0].place.line, 5u);
  const auto along = [&](const WorkPoint& v, std::size_t axis) {
    const char letter = letters[axis];
    return (letter == 'x' ? v.x : letter == 'y' ? v.y : v.z) / 25.4;
  };
  for (std::size_t i = 0; i < cycle_lines.size(); ++i) {
    const CycleLine& line = cycle_lines[i];
    std::vector<Motion> feeds;
    double dwells = 0, last_level = 0;
    for (const Motion& m : p.motions) {
      if (m.line != i + 4) continue;
      if (m.kind == MotionKind::feed) feeds.push_back(m);
      if (m.kind == MotionKind::dwell) dwells += static_cast<double>(m.dwell_s);
      last_level = along(m.end, 2);
    }
    ASSERT_EQ(feeds.size(), line.bottoms.size()) << plane << " " << line.text;
    for (std::size_t k = 0; k < feeds.size(); ++k) {
      EXPECT_NEAR(along(feeds[k].start, 2), line.r, 1e-12) << line.text;
      EXPECT_NEAR(along(feeds[k].end, 0), line.bottoms[k].x, 1e-12) << line.text;
      EXPECT_NEAR(along(feeds[k].end, 1), line.bottoms[k].y, 1e-12) << line.text;
      EXPECT_NEAR(along(feeds[k].end, 2), line.bottoms[k].z, 1e-12) << line.text;
    }
    EXPECT_NEAR(dwells, line.dwell_s * static_cast<double>(feeds.size()), 1e-6) << line.text;
    EXPECT_NEAR(last_level, std::string_view(mode) == "g98" ? line.clear98 : line.clear99, 1e-12)
        << plane << mode << line.text;
  }
}

TEST(StandardProgram, canned_cycles_in_three_planes_and_both_returns) {
  for (const char* mode : {"g98", "g99"}) {
    checkCycles("g17", "xyz", mode);
    checkCycles("g18", "zxy", mode);  // C.3: X becomes Z, Y becomes X, Z becomes Y
    checkCycles("g19", "yzx", mode);
  }
}

// NISTIR 6556 C.3 n0080: increments after the level 0.3 (G98) or 0.2 (G99) of the line before.
TEST(StandardProgram, incremental_repeats_start_from_the_level_left) {
  for (const auto& [mode, z] : {std::pair{"g98", -2.7}, std::pair{"g99", -2.8}}) {
    const Program p = strictly(std::string("g20 g17 g90 f16 m3 s1234\ng0 x0 y0 z0.3\n") + mode +
                               "\ng82 g90 x2 y5 r0.2 z-3.0 p0.6\ng91 x-2 y2 r0 l4\ng80\nm2");
    std::vector<Vec3> bottoms;
    for (const Motion& m : p.motions) {
      if (m.line == 5 && m.kind == MotionKind::feed) bottoms.push_back((m.end - WorkPoint{}) * (1 / 25.4));
    }
    ASSERT_EQ(bottoms.size(), 4u);
    for (int i = 0; i < 4; ++i) {
      EXPECT_NEAR(bottoms[static_cast<std::size_t>(i)].x, -2 * i, 1e-12);
      EXPECT_NEAR(bottoms[static_cast<std::size_t>(i)].y, 7 + 2 * i, 1e-12);
      EXPECT_NEAR(bottoms[static_cast<std::size_t>(i)].z, z, 1e-12) << mode;
    }
  }
}

std::vector<EventKind> eventsOf(const Program& p) {
  std::vector<EventKind> kinds;
  for (const Event& e : p.events) kinds.push_back(e.kind);
  return kinds;
}

const std::string before_bore = "G21 G17 G90 F100 S900 M3\nG0 X0 Y0 Z10\nG99\n";

TEST(CannedCycle, g84_turns_back_out_and_ends_clockwise) {  // 3.5.16.5
  const Program p = strictly(before_bore + "G84 X1 Y2 Z-3 R2\nG80\nM2");
  const std::vector<Motion> moves = movesFrom(p, 1);
  expectSteps(moves, {T(1, 2, 10), T(1, 2, 2), F(1, 2, -3), F(1, 2, 2)});
  EXPECT_EQ(moves[2].spindle, Spindle::cw);
  EXPECT_EQ(moves[3].spindle, Spindle::ccw);
  using enum EventKind;
  EXPECT_THAT(eventsOf(p), testing::ElementsAre(spindle_start, spindle_stop, spindle_start, spindle_stop, spindle_start,
                                                spindle_stop, end));
}

TEST(CannedCycle, g85_and_g89_feed_out) {  // 3.5.16.6, 3.5.16.10
  expectSteps(movesFrom(strictly(before_bore + "G85 X1 Y2 Z-3 R2\nG80\nM2"), 1),
              {T(1, 2, 10), T(1, 2, 2), F(1, 2, -3), F(1, 2, 2)});
  const Program p = strictly(before_bore + "G89 X1 Y2 Z-3 R2 P1.5\nG80\nM2");
  expectSteps(movesFrom(p, 1), {T(1, 2, 10), T(1, 2, 2), F(1, 2, -3), F(1, 2, 2)});
  EXPECT_FLOAT_EQ(p.motions[4].dwell_s, 1.5f);
}

TEST(CannedCycle, g86_stops_the_spindle_and_starts_it_again) {  // 3.5.16.7
  const Program p = strictly(before_bore + "G86 X1 Y2 Z-3 R2 P1\nG80\nM2");
  const std::vector<Motion> moves = movesFrom(p, 1);
  expectSteps(moves, {T(1, 2, 10), T(1, 2, 2), F(1, 2, -3), T(1, 2, 2)});
  EXPECT_EQ(moves[3].spindle, Spindle::off);
  using enum EventKind;
  EXPECT_THAT(eventsOf(p), testing::ElementsAre(spindle_start, spindle_stop, spindle_start, spindle_stop, end));
}

TEST(CannedCycle, g87_bores_from_behind) {  // 3.5.16.8
  const Program p = strictly(before_bore + "G87 X10 Y20 Z-8 R2 I0.5 J-0.25 K-3\nG80\nM2");
  const std::vector<Motion> moves = movesFrom(p, 1);
  expectSteps(moves, {T(10, 20, 10), T(10, 20, 2), T(10.5, 19.75, 2), T(10.5, 19.75, -8), T(10, 20, -8), F(10, 20, -3),
                      F(10, 20, -8), T(10.5, 19.75, -8), T(10.5, 19.75, 2), T(10, 20, 2)});
  EXPECT_EQ(moves[3].spindle, Spindle::off);
  EXPECT_EQ(moves[5].spindle, Spindle::cw);
  EXPECT_EQ(moves[8].spindle, Spindle::off);
}

TEST(CannedCycle, g88_stops_for_the_retract_by_hand) {  // 3.5.16.9
  const Program p = strictly(before_bore + "G88 X1 Y2 Z-3 R2 P1\nG80\nM2");
  using enum EventKind;
  EXPECT_THAT(eventsOf(p), testing::ElementsAre(spindle_start, spindle_stop, stop, spindle_start, spindle_stop, end));
}

TEST(CannedCycle, g73_pecks_without_leaving_the_hole) {  // extension: the words of G83; how far it backs off is ours
  const Program p = interpret(before_bore + "G73 X1 Y2 Z-3 R2 Q2\nG80\nM2");
  double highest_within = -100;
  std::vector<double> depths;
  for (const Motion& m : movesFrom(p, 3)) {
    if (m.kind == MotionKind::feed) depths.push_back(m.end.z);
    if (m.kind == MotionKind::rapid && m.end.z < 2) highest_within = std::max(highest_within, m.end.z);
  }
  EXPECT_THAT(depths, testing::ElementsAre(0, -2, -3));
  EXPECT_LT(highest_within, 1);
}

// NISTIR 6556 3.5.9.3 Table 6: the formulas of hole probing, with the trip points of an ideal hole put in by hand.
TEST(StandardProgram, hole_probing_formulas) {
  const Program p = strictly(
      "G21 G90\n#1001=10 #1002=20 #1004=2 #1005=[30/2.0-#1004]\n"
      "#1011=23 #5061=-3\n#1021=[[#1011+#5061]/2.0]\n#1012=33 "
      "#5062=7\n#1022=[[#1012+#5062]/2.0]\n#1014=[#1012-#5062+[2*#1004]]\n"
      "#1041=[[#1011+#5061]/2.0]\n#1024=[#1011-#5061+[2*#1004]]\n#1034=[[#1014+#1024]/2.0]\n#1035=[#1024-#1014]\n"
      "G0 X#1041 Y#1022 Z#1034\nX#1021 Y#1014 Z#1035\nM2");
  ASSERT_EQ(p.motions.size(), 2u);
  EXPECT_EQ(p.motions[0].end, (WorkPoint{10, 20, 30}));
  EXPECT_EQ(p.motions[1].end, (WorkPoint{10, 30, 0}));
}

}  // namespace
}  // namespace provecut
