// The modal groups of NISTIR 6556 Table 4 as a table: two codes of one group on one line exclude each other, two codes
// of different groups do not.
#include "tests/parser/interpreter/reading_helper.h"

namespace provecut {
namespace {

using Group = std::vector<std::string>;

const std::vector<Group> g_groups = {
    {"G0", "G1", "G2", "G3", "G38.2", "G80", "G81", "G82", "G83", "G84", "G85", "G86", "G87", "G88", "G89"},
    {"G17", "G18", "G19"},
    {"G90", "G91"},
    {"G93", "G94"},
    {"G20", "G21"},
    {"G40", "G41", "G42"},
    {"G43", "G49"},
    {"G98", "G99"},
    {"G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"},
    {"G61", "G61.1", "G64"},
    {"G4", "G10", "G28", "G30", "G53", "G92", "G92.1", "G92.2", "G92.3"},
};
const std::vector<Group> m_groups = {
    {"M0", "M1", "M2", "M30", "M60"}, {"M6"}, {"M3", "M4", "M5"}, {"M7", "M8", "M9"}, {"M48", "M49"}};

bool conflict(const std::string& line) {
  return find(strictly("G21 G90 F100\n" + line + "\nM2\n"), "modal-conflict") != nullptr;
}

TEST(ModalGroup, two_codes_of_one_group_exclude_each_other) {
  for (const auto* groups : {&g_groups, &m_groups}) {
    for (const Group& group : *groups) {
      for (const std::string& a : group) {
        for (const std::string& b : group) EXPECT_TRUE(conflict(a + " " + b)) << a << " " << b;
      }
    }
  }
}

TEST(ModalGroup, codes_of_different_groups_do_not) {
  std::vector<Group> groups = g_groups;
  groups.insert(groups.end(), m_groups.begin(), m_groups.end());
  for (std::size_t i = 0; i < groups.size(); ++i) {
    for (std::size_t k = 0; k < groups.size(); ++k) {
      if (i == k) continue;
      for (const std::string& a : groups[i]) {
        for (const std::string& b : groups[k]) EXPECT_FALSE(conflict(a + " " + b)) << a << " " << b;
      }
    }
  }
}

TEST(ModalGroup, read_as_exported_the_same_code_twice_is_no_conflict) {
  EXPECT_EQ(find(interpret("G21 G90 G90 G0 X1\nM2"), "modal-conflict"), nullptr);
  EXPECT_NE(find(interpret("G21 G90 G91 G0 X1\nM2"), "modal-conflict"), nullptr);
}

// NISTIR 6556 3.3.6: words, settings and comments mean the same in any order.
TEST(Order, all_720_orders_of_a_line_mean_the_same) {
  std::vector<std::string> items = {"g40", "g1", "#3=15", "(foo)", "#4=-7.0", "x1"};
  std::sort(items.begin(), items.end());
  int orders = 0;
  do {
    std::string line;
    for (const std::string& item : items) line += item + " ";
    const Program p = strictly("G21 G90 G17 F100\nG0 X0 Y0 Z0\n" + line + "\nG0 X#3 Y#4\nM2\n");
    ASSERT_TRUE(p.problems.empty()) << line;
    ASSERT_EQ(p.motions.size(), 3u);
    EXPECT_EQ(p.motions[1].kind, MotionKind::feed);
    EXPECT_EQ(p.motions[1].end, (WorkPoint{1, 0, 0}));
    EXPECT_EQ(p.motions[2].end, (WorkPoint{15, -7, 0}));
    ++orders;
  } while (std::next_permutation(items.begin(), items.end()));
  EXPECT_EQ(orders, 720);
}

// NISTIR 6556 Table 8: feed, speed, tool change, spindle, dwell, plane, units, system, distance come before the move;
// the stop comes after it.
TEST(Order, a_line_is_run_in_the_standards_order) {
  const Program p =
      interpret("G21 G90 G17 T9 M6 F10\nG0 X0 Y0 Z0\nM0 X1 G91 G20 G1 M3 M6 T4 S900 F20\nM2", {.tool_in_spindle = 0});
  ASSERT_EQ(p.motions.size(), 2u);
  const Motion& m = p.motions[1];
  EXPECT_EQ(m.end.x, 25.4);
  EXPECT_EQ(m.tool, 4);
  EXPECT_EQ(m.spindle, Spindle::cw);
  EXPECT_FLOAT_EQ(m.rpm, 900);
  EXPECT_FLOAT_EQ(m.feed_mm_min, 20 * 25.4f);
  std::vector<EventKind> kinds;
  for (const Event& e : p.events) kinds.push_back(e.kind);
  EXPECT_THAT(kinds, testing::ElementsAre(EventKind::tool_change, EventKind::tool_change, EventKind::spindle_start,
                                          EventKind::stop, EventKind::spindle_stop, EventKind::end));
  EXPECT_EQ(p.events[3].before_motion, 2u);
}

TEST(Order, g4_waits_before_the_move_of_its_line) {
  const Program p = interpret("G21 G90\nG0 X0 Y0 Z0\nG4 P2 X5\nM2");
  ASSERT_EQ(p.motions.size(), 3u);
  EXPECT_EQ(p.motions[1].kind, MotionKind::dwell);
  EXPECT_EQ(p.motions[2].end.x, 5);
}

}  // namespace
}  // namespace provecut
