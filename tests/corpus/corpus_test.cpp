// Programs that people exported, read to their ends. What INDEX.tsv beside them says of each (lines, units) was counted
// from their text by other means; what they move is counted by a second reader, in Python. They lie outside the
// project, in ../shared/corpus: without them the tests are skipped.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
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

// What count_motions.py beside this file says of a program: the counts of its moves and the box of its cuts.
struct Counted {
  std::map<MotionKind, std::size_t> moves;
  WorkBox cuts;
};

// By file; programs that ask for more than the script knows are not among them.
std::map<std::string, Counted> countedByScript() {
  std::string command = "python3 " PROVECUT_SOURCE_DIR "/tests/corpus/count_motions.py";
  for (const auto& entry : fs::directory_iterator(folder())) {
    if (entry.path().extension() != ".tsv" && entry.path().extension() != ".md")
      command += " '" + entry.path().string() + "'";
  }
  std::string text;
  FILE* pipe = popen(command.c_str(), "r");
  if (!pipe) return {};
  std::array<char, 4096> buffer{};
  for (std::size_t n; (n = fread(buffer.data(), 1, buffer.size(), pipe)) > 0;) text.append(buffer.data(), n);
  EXPECT_EQ(pclose(pipe), 0) << command;
  std::map<std::string, Counted> all;
  std::istringstream rows(text);
  for (std::string row; std::getline(rows, row);) {
    std::vector<std::string> cells;
    std::istringstream cut(row);
    for (std::string cell; std::getline(cut, cell, '\t');) cells.push_back(cell);
    if (cells.size() != 11) continue;
    Counted c;
    const MotionKind kinds[] = {MotionKind::rapid, MotionKind::feed, MotionKind::arc_cw, MotionKind::arc_ccw};
    for (std::size_t k = 0; k < 4; ++k) c.moves[kinds[k]] = std::stoul(cells[1 + k]);
    c.cuts.low = {std::stod(cells[5]), std::stod(cells[6]), std::stod(cells[7])};
    c.cuts.high = {std::stod(cells[8]), std::stod(cells[9]), std::stod(cells[10])};
    all.emplace(cells[0], c);
  }
  return all;
}

TEST_F(Corpus, moves_and_cuts_are_those_that_a_second_reader_finds) {
  if (std::system("python3 --version >/dev/null 2>&1") != 0) GTEST_SKIP() << "python3 is not there";
  const auto counted = countedByScript();
  int compared = 0;
  for (const Entry& e : entries_) {
    const auto known = counted.find(e.file);
    if (known == counted.end()) continue;
    SCOPED_TRACE(e.file);
    const Program p = interpret(textOf(e.file));
    std::map<MotionKind, std::size_t> moves;
    WorkBox cuts;
    for (const Motion& m : p.motions) {
      ++moves[m.kind];
      if (m.kind == MotionKind::feed || isArc(m)) cuts.add(m.end);
    }
    for (const auto& [kind, count] : known->second.moves) EXPECT_EQ(moves[kind], count) << static_cast<int>(kind);
    EXPECT_LT(length(cuts.low - known->second.cuts.low), 1e-5);
    EXPECT_LT(length(cuts.high - known->second.cuts.high), 1e-5);
    EXPECT_TRUE(p.read_whole);
    ++compared;
  }
  EXPECT_GE(compared, 43);
}

}  // namespace
}  // namespace provecut
