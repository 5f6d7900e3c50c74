#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "report/facts/locked.h"
#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

using ::testing::HasSubstr;

// A locked program of two moves in the wood, to Z -3.
struct LockedScene : Scene {
  LockedScene() {
    text() = "(tray, front)\nG0 X10\n";
    feed({10, 10, -3});
    feed({90, 40, -3});
    keep();
  }
  void keep() {
    lock() = lockOf(facts());
    lock()->date = "2026-11-30";
    lockFile() = "job.lock";
  }
  std::string message() {
    const auto found = findings(program_changed_rule);
    return found.size() == 1 ? found[0].message : std::to_string(found.size()) + " findings";
  }
};

TEST(ProgramChanged, the_locked_file_itself_is_not_told_and_no_lock_is_no_finding) {
  LockedScene s;
  EXPECT_TRUE(s.findings(program_changed_rule).empty());
  s.text() += "G0 X11\n";
  s.feed({90, 40, -4});
  EXPECT_EQ(s.findings(program_changed_rule).size(), 1u);
  s.lock().reset();
  EXPECT_TRUE(s.findings(program_changed_rule).empty());
}

TEST(ProgramChanged, a_deeper_export_is_told_by_how_much_and_where_it_was_locked) {
  LockedScene s;
  s.text() += " ";
  s.last().end.z = -3.5;
  const auto findings = s.findings(program_changed_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].message,
            "this is not the program that was locked on 2026-11-30: cuts 0.5 mm deeper, to Z -3.5 mm (was Z -3 mm)");
  EXPECT_THAT(findings[0].help, HasSubstr("provecut lock --update job.toml"));
  ASSERT_EQ(findings[0].related.size(), 1u);
  EXPECT_EQ(findings[0].related[0].file, "job.lock");
}

TEST(ProgramChanged, moves_tools_and_extents_are_each_told) {
  LockedScene s;
  s.text() += " ";
  s.feed({95, 45, -3});
  s.last().tool = 3;
  EXPECT_EQ(s.message(),
            "this is not the program that was locked on 2026-11-30: 1 move more (3, was 2); tools 1 and 3 in place of "
            "tool 1; cuts from X 0 to 95 mm (was 0 to 90); cuts from Y 0 to 45 mm (was 0 to 40)");
}

TEST(ProgramChanged, another_feed_alone_is_told_as_such) {
  LockedScene s;
  s.text() += " ";
  s.last().feed_mm_min = 25;
  EXPECT_THAT(s.message(),
              HasSubstr("same number of moves, depth, tools and extents; something else differs: the path, "
                        "a feed, a speed, a stop or another code"));
}

TEST(ProgramChanged, another_header_helps_to_know_the_export) {
  LockedScene s;
  s.text() = "(tray, front, version 7)\nG0 X10\n";
  s.last().end.z = -3.5;
  EXPECT_THAT(s.message(), HasSubstr("its header says \"tray, front, version 7\" (was \"tray, front\")"));
}

TEST(ProgramChanged, a_program_that_was_added_and_one_that_is_gone_are_told) {
  LockedScene s;
  s.addProgram("20-more.nc");
  s.text(1) = "G0 X1\n";
  EXPECT_EQ(s.message(), "this program is not in the lock of 2026-11-30");
  s.keep();
  s.setup().programs[1].file = "21-more.nc";
  const auto findings = s.findings(program_changed_rule);
  ASSERT_EQ(findings.size(), 2u);
  EXPECT_EQ(findings[1].message, "20-more.nc was locked on 2026-11-30; the job no longer runs it");
}

}  // namespace
}  // namespace provecut
