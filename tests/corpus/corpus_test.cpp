// Programs that people exported, read to their ends. What INDEX.tsv beside them says of each (lines, units, tool
// changes) was counted from their text by other means. They lie outside the project: without them the tests are
// skipped.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iomanip>
#include <iterator>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "parser/interpreter/interpreter.h"
#include "tests/paths.h"

namespace provecut {
namespace {

namespace fs = std::filesystem;

struct Entry {
  std::string file, units, features;
  std::uint32_t lines = 0;
};

fs::path folder() {
  return fs::path(PROVECUT_SOURCE_DIR) / ".." / "shared" / "corpus";
}

std::vector<Entry> index() {
  std::vector<Entry> entries;
  std::ifstream in(folder() / "INDEX.tsv");
  std::string row;
  std::getline(in, row);  // the headings
  while (std::getline(in, row)) {
    std::vector<std::string> cells;
    std::istringstream cut(row);
    for (std::string cell; std::getline(cut, cell, '\t');) cells.push_back(cell);
    if (cells.size() < 8) continue;
    entries.push_back({cells[0], cells[5], cells[7], static_cast<std::uint32_t>(std::atoi(cells[6].c_str()))});
  }
  return entries;
}

std::string textOf(const std::string& file) {
  std::ifstream in(folder() / file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

class Corpus : public ::testing::Test {
 protected:
  void SetUp() override {
    if (!fs::exists(folder() / "INDEX.tsv")) GTEST_SKIP() << "the exported programs are not here: " << folder();
    entries_ = index();
    ASSERT_GT(entries_.size(), 50U);
  }
  std::vector<Entry> entries_;
};

TEST_F(Corpus, every_program_is_read_to_its_last_line_and_moves) {
  for (const Entry& e : entries_) {
    SCOPED_TRACE(e.file);
    const Program p = interpret(textOf(e.file));
    // A line end at the very end may or may not be counted as one more line.
    EXPECT_NEAR(p.lines, e.lines, 1);
    EXPECT_FALSE(p.motions.empty());
    for (const Motion& m : p.motions) {
      ASSERT_TRUE(std::isfinite(m.end.x) && std::isfinite(m.end.y) && std::isfinite(m.end.z)) << "line " << m.line;
      ASSERT_GE(m.line, 1U);
      ASSERT_LE(m.line, p.lines);
    }
    for (const Problem& problem : p.problems) {
      EXPECT_LE(problem.place.line, p.lines);
      EXPECT_FALSE(problem.id.empty());
    }
  }
}

TEST_F(Corpus, each_move_goes_on_where_the_one_before_ended) {
  for (const Entry& e : entries_) {
    SCOPED_TRACE(e.file);
    const Program p = interpret(textOf(e.file));
    std::size_t jumps = 0;
    for (std::size_t i = 1; i < p.motions.size(); ++i) {
      if (length(p.motions[i].start - p.motions[i - 1].end) > 1e-6) ++jumps;
    }
    // G92 and work offsets rename places; they do not move the tool.
    EXPECT_EQ(jumps, 0U);
  }
}

TEST_F(Corpus, units_are_those_that_the_program_states) {
  for (const Entry& e : entries_) {
    SCOPED_TRACE(e.file);
    const Program p = interpret(textOf(e.file));
    if (e.units == "inch") {
      EXPECT_TRUE(p.modal.ever_inch);
    } else if (e.units == "mm") {
      EXPECT_TRUE(p.modal.ever_mm);
      EXPECT_FALSE(p.modal.ever_inch);
    }
  }
}

// Programs go by the number that their file begins with.
std::string numberOf(const std::string& file) {
  return file.substr(0, file.find('-'));
}

// A row of table.tsv: what reading the program yields.
std::string rowOf(const Entry& e, const Program& p) {
  std::map<std::string, std::size_t> kinds, problems;
  Box3 box;
  for (const Motion& m : p.motions) {
    static constexpr const char* names[] = {"rapid", "feed", "cw", "ccw", "dwell", "probe"};
    ++kinds[names[static_cast<std::size_t>(m.kind)]];
    if (m.kind == MotionKind::feed || isArc(m)) box.add(m.end);
  }
  for (const Problem& problem : p.problems) ++problems[std::string(problem.id)];
  std::ostringstream row;
  row << numberOf(e.file) << '\t';
  const auto list = [&](const std::map<std::string, std::size_t>& counts) {
    const char* comma = "";
    for (const auto& [what, n] : counts) {
      row << comma << what << ' ' << n;
      comma = ", ";
    }
    row << '\t';
  };
  list(kinds);
  row << std::fixed << std::setprecision(2) << box.low.x << ' ' << box.low.y << ' ' << box.low.z << " to " << box.high.x
      << ' ' << box.high.y << ' ' << box.high.z << '\t';
  list(problems);
  row << (p.read_whole ? "whole" : "not whole");
  return row.str();
}

// The table was read row by row against the programs' text and the remarks beside them.
TEST_F(Corpus, yields_what_its_table_says) {
  std::map<std::string, std::string> table;
  std::ifstream in(fs::path(PROVECUT_SOURCE_DIR) / "tests" / "corpus" / "table.tsv");
  for (std::string row; std::getline(in, row);) table[row.substr(0, row.find('\t'))] = row;
  for (const Entry& e : entries_) {
    EXPECT_EQ(rowOf(e, interpret(textOf(e.file))), table[numberOf(e.file)]) << e.file;
  }
}

}  // namespace
}  // namespace provecut
