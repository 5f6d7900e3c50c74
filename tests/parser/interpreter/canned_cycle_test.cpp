#include "tests/parser/interpreter/reading_helper.h"

namespace provecut {
namespace {

// NISTIR 6556 3.5.16.2, first example.
TEST(CannedCycle, g81_absolute_with_return_to_the_old_level) {
  const Program p = interpret("G21 G17 F100\nG90 G0 X1 Y2 Z3\nG90 G81 G98 X4 Y5 Z1.5 R2.8\nM2");
  expectSteps(movesFrom(p, 1), {T(4, 5, 3), T(4, 5, 2.8), F(4, 5, 1.5), T(4, 5, 3)});
  EXPECT_TRUE(p.motions[1].flags & motion_in_cycle);
  EXPECT_TRUE(p.problems.empty());
}

// NISTIR 6556 3.5.16.2, second example.
TEST(CannedCycle, g81_incremental_repeated) {
  const Program p = interpret("G21 G17 F100\nG90 G0 X1 Y2 Z3\nG91 G81 G98 X4 Y5 Z-0.6 R1.8 L3\nM2");
  expectSteps(movesFrom(p, 1), {T(1, 2, 4.8), T(5, 7, 4.8), F(5, 7, 4.2), T(5, 7, 4.8), T(9, 12, 4.8), F(9, 12, 4.2),
                                T(9, 12, 4.8), T(13, 17, 4.8), F(13, 17, 4.2), T(13, 17, 4.8)});
}

// E25i, NISTIR 6556 Table 10.
TEST(CannedCycle, the_cycle_of_the_standards_session) {
  const Program p = interpret("G21 G17 F20\nG90 G0 X30 Y1 Z-0.5\ng91 g81 x3 y2 z-0.8 r1.5 l2\nM2");
  expectSteps(movesFrom(p, 1),
              {T(30, 1, 1), T(33, 3, 1), F(33, 3, 0.2), T(33, 3, 1), T(36, 5, 1), F(36, 5, 0.2), T(36, 5, 1)});
}

TEST(CannedCycle, r_and_depth_are_kept_on_the_lines_that_follow) {
  const Program p = interpret("G21 G17 G90 F100\nG0 X0 Y0 Z10\nG99 G81 X1 Y1 Z-3 R2\nX2\nY2 Z-4\nG80\nM2");
  expectSteps(movesFrom(p, 1), {T(1, 1, 10), T(1, 1, 2), F(1, 1, -3), T(1, 1, 2), T(2, 1, 2), F(2, 1, -3), T(2, 1, 2),
                                T(2, 2, 2), F(2, 2, -4), T(2, 2, 2)});
}

// NISTIR 6556 3.5.16: under G91 R counts from the present level and Z from R, and kept words are numbers. R3 above Z3
// is 6, and 13.5 below that -7.5; a controller that keeps the places drills to -13.5.
TEST(CannedCycle, places_kept_into_g91_become_increments_and_that_is_told_once) {
  const Program p = interpret("G21 G17 G90 F100\nG0 X20 Y20 Z30\nG99 G81 X20 Y20 Z-13.5 R3\nG91 X32 L6\nX1\nG80\nM2");
  const Problem* told = find(p, "cycle-kept-increments");
  ASSERT_NE(told, nullptr);
  EXPECT_EQ(told->place.line, 4u);
  EXPECT_EQ(std::get<fact::Length>(told->facts[0]).mm, -7.5);
  EXPECT_EQ(std::get<fact::Length>(told->facts[1]).mm, -13.5);
  EXPECT_EQ(std::count_if(p.problems.begin(), p.problems.end(),
                          [](const Problem& one) { return one.id == "cycle-kept-increments"; }),
            1);
}

TEST(CannedCycle, a_cycle_with_its_own_words_under_g91_is_read_alike_everywhere) {
  for (const char* lines : {
           "G91 G81 X4 Y5 Z-0.6 R-1.8 L3",                     // wholly in G91
           "G91 G81 X4 Y5 Z-0.6 R-1.8\nX4\nX4 L2",             // kept from a line under G91
           "G99 G81 X1 Y1 Z-3 R2\nG91 X4 Z-5 R0 L3",           // its own again
           "G99 G81 X1 Y1 Z-3 R2\nG91 X4 Z-5 R0\nX4 L3",       // and kept from there
           "G99 G81 X1 Y1 Z-3 R2\nG80\nG91 G81 X4 Z-5 R0 L3",  // another cycle
           "G99 G81 X1 Y1 Z-3 R2\nX5\nX9",                     // under G90 throughout
       }) {
    EXPECT_EQ(
        find(interpret("G21 G17 G90 F100\nG0 X0 Y0 Z3\n" + std::string(lines) + "\nG80\nM2"), "cycle-kept-increments"),
        nullptr)
        << lines;
  }
}

TEST(CannedCycle, g82_waits_at_the_bottom) {
  const Program p = interpret("G21 G17 G90 F100\nG0 X0 Y0 Z10\nG98 G82 X1 Y1 Z-3 R2 P0.5\nM2");
  ASSERT_EQ(p.motions.size(), 6u);
  EXPECT_EQ(p.motions[4].kind, MotionKind::dwell);
  EXPECT_FLOAT_EQ(p.motions[4].dwell_s, 0.5f);
}

// NISTIR 6556 3.5.16.4; depths of C.3 line n0090: 0.2 less 0.21 each, in inches. How far the rapid back stops
// short of the last depth is not in the standard and not looked at.
TEST(CannedCycle, g83_pecks) {
  const Program p = interpret("G20 G17 G90 F16\nG0 X0 Y0 Z0.3\nG98 g83 g90 x5 y6 r0.2 z-1.1 q0.21\nM2");
  std::vector<double> depths;
  for (const Motion& m : p.motions) {
    if (m.kind == MotionKind::feed) depths.push_back(m.end.z / 25.4);
  }
  const std::vector<double> expected{-0.01, -0.22, -0.43, -0.64, -0.85, -1.06, -1.1};
  ASSERT_EQ(depths.size(), expected.size());
  for (std::size_t i = 0; i < expected.size(); ++i) EXPECT_NEAR(depths[i], expected[i], 1e-12);
  ASSERT_FALSE(p.motions.empty());
  EXPECT_NEAR(p.motions.back().end.z, 0.3 * 25.4, 1e-12);
}

TEST(CannedCycle, in_g18_the_depth_is_along_y) {
  const Program p = interpret("G21 G18 G90 F100\nG0 X0 Y10 Z0\nG99 G81 X1 Z2 Y-3 R2\nM2");
  expectSteps(movesFrom(p, 1), {T(1, 10, 2), T(1, 2, 2), F(1, -3, 2), T(1, 2, 2)});
}

TEST(CannedCycle, a_cycle_without_depth_is_left_out_and_said) {
  const Program p = interpret("G21 G17 G90 F100\nG0 X0 Y0 Z10\nG81 X1 R2\nM2");
  EXPECT_EQ(p.motions.size(), 1u);
  EXPECT_NE(find(p, "cycle-without-depth"), nullptr);
  EXPECT_FALSE(p.read_whole);
}

TEST(CannedCycle, a_billion_repeats_are_bounded_and_said) {
  const Program p = interpret("G21 G17 G91 F100\nG81 X1 Z-1 R0 L1000000000\nM2");
  EXPECT_LE(p.motions.size(), 500'000u);
  EXPECT_NE(find(p, "limit-reached"), nullptr);
  EXPECT_FALSE(p.read_whole);
}

// NISTIR 6556 3.5.16: what is said of a bad L is what is done.
TEST(CannedCycle, a_bad_repeat_count_makes_as_many_holes_as_it_says) {
  for (const auto& [l, holes, said] : {std::tuple{"L0", 0, ProblemKind::cycle_repeats_zero},
                                       {"L1.5", 1, ProblemKind::cycle_repeats_faulty},
                                       {"L-2", 1, ProblemKind::cycle_repeats_faulty}}) {
    const Program p = interpret(std::string("G21 G90 G17 F100\nG0 X0 Y0 Z5\nG81 X10 Y10 Z-2 R2 ") + l + "\nG80\nM2");
    ASSERT_NE(find(p, "cycle-repeats"), nullptr);
    EXPECT_EQ(find(p, "cycle-repeats")->kind, said) << l;
    EXPECT_EQ(
        std::count_if(p.motions.begin(), p.motions.end(), [](const Motion& m) { return m.kind == MotionKind::feed; }),
        holes)
        << l;
  }
}

// NISTIR 6556 3.5.16: Q belongs to G83 alone, P to the cycles that wait; read strictly, any other is refused.
TEST(CannedCycle, read_strictly_q_and_p_stand_only_where_the_standard_has_them) {
  const auto refused = [](const std::string& cycle) {
    return find(strictly("G21 G17 G90 F100\nG0 X0 Y0 Z10 M3 S1000\nG98 " + cycle + "\nG80\nM2"), "word-refused") !=
           nullptr;
  };
  EXPECT_FALSE(refused("G83 X1 Y1 Z-3 R2 Q1"));
  EXPECT_FALSE(refused("G82 X1 Y1 Z-3 R2 P0.5"));
  EXPECT_FALSE(refused("G86 X1 Y1 Z-3 R2 P0.5"));
  EXPECT_FALSE(refused("G88 X1 Y1 Z-3 R2 P0.5"));
  EXPECT_FALSE(refused("G89 X1 Y1 Z-3 R2 P0.5"));
  for (const char* code : {"G81", "G82", "G85", "G89"}) {
    const std::string wait = code[2] == '2' || code[2] == '9' ? " P0.5" : "";
    EXPECT_TRUE(refused(std::string(code) + " X1 Y1 Z-3 R2 Q1" + wait)) << code;
  }
  for (const char* code : {"G81", "G85"}) EXPECT_TRUE(refused(std::string(code) + " X1 Y1 Z-3 R2 P0.5")) << code;
  EXPECT_TRUE(refused("G83 X1 Y1 Z-3 R2 Q1 P0.5"));
}

}  // namespace
}  // namespace provecut
