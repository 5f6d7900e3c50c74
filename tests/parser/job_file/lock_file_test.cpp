#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "parser/job_file/lock_file.h"
#include "tests/paths.h"

namespace provecut {
namespace {

const std::string digest(64, 'a');

std::string lockText(const std::string& more = {}) {
  return "lock = 1\ndate = \"2026-11-30\"\nverdict = \"note\"\n\n[[program]]\nfile = \"a.nc\"\nsha256 = \"" + digest +
         "\"\nbytes = 12\ncomments = [\"one\"]\nmoves_sha256 = \"" + digest +
         "\"\nmoves = 3\ntools = [1, 4]\ncuts_from = [0, 0, -3]\ncuts_to = [10, 20.5, 5]\n" + more;
}

// The one complaint about a text, with its line.
std::string complaint(const std::string& text) {
  const LockReading read = readLock(text);
  if (read.lock || read.problems.size() != 1) return std::to_string(read.problems.size()) + " complaints";
  return std::to_string(read.problems[0].place.line) + ": " + read.problems[0].message;
}

std::string with(std::string text, const std::string& what, const std::string& instead) {
  return text.replace(text.find(what), what.size(), instead);
}

TEST(LockFile, is_read_with_all_its_figures) {
  const LockReading read = readLock(lockText());
  ASSERT_TRUE(read.lock);
  EXPECT_EQ(read.lock->date, "2026-11-30");
  EXPECT_EQ(read.lock->verdict, "note");
  const LockedProgram& p = read.lock->programs.at(0);
  EXPECT_EQ(p.file, "a.nc");
  EXPECT_EQ(p.place.line, 5u);
  EXPECT_EQ(p.tools, (std::vector<int>{1, 4}));
  EXPECT_FALSE(p.cuts.empty);
  EXPECT_DOUBLE_EQ(p.cuts.high.y, 20.5);
}

TEST(LockFile, what_is_wrong_in_it_is_told_with_its_line) {
  EXPECT_EQ(complaint(with(lockText(), digest, digest.substr(1))),
            "7: `sha256` of [[program]] is no SHA-256 (64 digits from 0 to 9 and a to f)");
  EXPECT_EQ(complaint(with(lockText(), "lock = 1", "lock = 2")).substr(0, 2), "1:");
  EXPECT_EQ(complaint(with(lockText(), "cuts_to = [10, 20.5, 5]", "")),
            "5: [[program]] has only one of `cuts_from` and `cuts_to`");
  EXPECT_EQ(complaint(with(lockText(), "moves = 3", "moves = -3")).substr(0, 3), "11:");
  EXPECT_EQ(complaint(lockText("colour = 1\n")), "15: unknown key \"colour\" in [[program]]");
  EXPECT_EQ(complaint("lock = 1\ndate = \"2026-11-30\"\nverdict = \"note\"\n"), "1: the lock file has no `program`");
  EXPECT_EQ(complaint("lock = 1\ndate = \"2026-11-30\"\nverdict = \"note\"\nprogram = []\n"),
            "1: the lock file has no program");
  EXPECT_EQ(complaint(lockText("[[program]\n")).substr(0, 3), "15:");
}

TEST(LockFile, a_program_is_in_it_once) {
  const std::string one = lockText();
  EXPECT_EQ(complaint(one + one.substr(one.find("[[program]]"))), "15: this program is in the lock file twice");
}

// The same files are checked against the published schema.
TEST(LockFile, whole_files_are_read_where_they_are_good_and_get_one_complaint_where_they_are_bad) {
  const auto each = [](const char* folder, std::size_t complaints) {
    int count = 0;
    for (const auto& entry : std::filesystem::directory_iterator(std::string(PROVECUT_SOURCE_DIR) +
                                                                 "/tests/parser/job_file/files/" + folder)) {
      std::ifstream file(entry.path(), std::ios::binary);
      const LockReading read = readLock(std::string{std::istreambuf_iterator<char>(file), {}});
      EXPECT_EQ(read.problems.size(), complaints) << entry.path();
      EXPECT_EQ(read.lock.has_value(), complaints == 0) << entry.path();
      ++count;
    }
    return count;
  };
  EXPECT_GE(each("good-locks", 0), 2);
  EXPECT_GE(each("bad-locks", 1), 5);
}

TEST(LockFile, has_its_name_from_the_job_file) {
  EXPECT_EQ(lockFileOf("doors/job.toml"), "doors/job.lock");
  EXPECT_EQ(lockFileOf("JOB.TOML"), "JOB.lock");
}

}  // namespace
}  // namespace provecut
