// Worked examples of NISTIR 6556 that stand alone; the others are where their subject is: look for their E-number.
#include "tests/parser/interpreter/reading_helper.h"

namespace provecut {
namespace {

// NISTIR 6556 3.3.4: a comment is inert, whatever words it holds.
TEST(WorkedExample, a_comment_that_says_stop_stops_nothing) {
  const Program p = strictly("G21 G90 F100 S900 M3\nG0 X0 Y0 Z0\nG80 M5 (stop motion)\nG1 X3\nM2");
  EXPECT_TRUE(p.problems.empty());
  ASSERT_EQ(p.motions.size(), 2u);
  EXPECT_EQ(p.motions[1].end.x, 3);
  EXPECT_EQ(p.motions[1].spindle, Spindle::off);  // M5 it was
}

// NISTIR 6556 3.1.
TEST(WorkedExample, g1_x3_feeds_to_x3) {
  const Program p = strictly("G21 G90 F100\nG0 X0 Y0 Z0\nG1 X3\nM2");
  ASSERT_EQ(p.motions.size(), 2u);
  EXPECT_EQ(p.motions[1].kind, MotionKind::feed);
  EXPECT_EQ(p.motions[1].end, (WorkPoint{3, 0, 0}));
}

// NISTIR 6556 3.5.16.5: two threads per millimetre at F150 ask for S300; feed and speed must reach the moves as they
// were written.
TEST(WorkedExample, tapping_feeds_at_speed_by_pitch) {
  const Program p = strictly("G21 G17 G90 F150 S300 M3\nG0 X0 Y0 Z10\nG84 X1 Y2 Z-3 R2\nG80\nM2");
  int feeds = 0;
  for (const Motion& m : p.motions) {
    if (m.kind != MotionKind::feed) continue;
    EXPECT_DOUBLE_EQ(static_cast<double>(m.feed_mm_min) / static_cast<double>(m.rpm), 1 / 2.0);
    ++feeds;
  }
  EXPECT_EQ(feeds, 2);  // in and out
}

// NISTIR 6556 C.3 n0100 to n0120, inches; the report prints no motions: bottoms follow from 3.5.16.
TEST(WorkedExample, tapping_boring_and_boring_with_a_stop) {
  const Program p = strictly(
      "g20 g17 g90 f16 m3 s1234\ng0 x0 y0 z0.2\ng99\ng84 x6 y7 r0.2 z-1.1\ng85 x7 y8 r0.2 z-1.1\n"
      "g86 x8 y9 r0.2 z-1.1 p902.61\ng80\nm2");
  EXPECT_TRUE(p.problems.empty());
  const double bottoms[][2] = {{6, 7}, {7, 8}, {8, 9}};
  int hole = 0;
  double waited_s = 0;
  for (const Motion& m : p.motions) {
    if (m.kind == MotionKind::dwell) waited_s += static_cast<double>(m.dwell_s);
    if (m.kind != MotionKind::feed || m.end.z > 0) continue;
    ASSERT_LT(hole, 3);
    EXPECT_NEAR(m.end.x, bottoms[hole][0] * 25.4, 1e-9);
    EXPECT_NEAR(m.end.y, bottoms[hole][1] * 25.4, 1e-9);
    EXPECT_NEAR(m.end.z, -1.1 * 25.4, 1e-9);
    ++hole;
  }
  EXPECT_EQ(hole, 3);
  EXPECT_NEAR(waited_s, 902.61, 1e-4);
  ASSERT_FALSE(p.motions.empty());
  EXPECT_NEAR(p.motions.back().end.z, 0.2 * 25.4, 1e-9);
}

// NISTIR 6556 C.3 n0135 and on: the line leaves increments on, so the holes that follow count from where it ended.
TEST(WorkedExample, a_bore_in_increments_leaves_increments_on) {
  const Program p = strictly(
      "g20 g17 g90 f16 m3 s1234\ng0 x0 y0 z0.2\ng99\ng87 x9 y10 r0.2 z-1.1 i0.231 j-0 k-3\n"
      "g91 x1 r0.2 z-1.1 i0.231 j-0 k-3\ng89 x11 y12 r0.2 z-1.1 p1.272\ng80\nm2");
  ASSERT_FALSE(p.motions.empty());
  EXPECT_NEAR(p.motions.back().end.x, (9 + 1 + 11) * 25.4, 1e-9);
  EXPECT_NEAR(p.motions.back().end.y, (10 + 12) * 25.4, 1e-9);
}

}  // namespace
}  // namespace provecut
