// STORIES.md against the rules and tests that there are.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

#include "report/rules/rule.h"
#include "tests/paths.h"

namespace provecut {
namespace {

namespace fs = std::filesystem;

std::string readAll(const fs::path& path) {
  std::ifstream in(path);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::string trimmed(const std::string& text) {
  const auto first = text.find_first_not_of(' ');
  return first == std::string::npos ? "" : text.substr(first, text.find_last_not_of(' ') - first + 1);
}

// Rows of the tables with `columns` cells, heads and rules left out.
std::vector<std::vector<std::string>> rowsOf(std::size_t columns) {
  std::vector<std::vector<std::string>> rows;
  std::istringstream text(readAll(fs::path(PROVECUT_SOURCE_DIR) / "tests" / "report" / "rules" / "STORIES.md"));
  for (std::string line; std::getline(text, line);) {
    if (line.empty() || line.front() != '|' || line.starts_with("| ---")) continue;
    std::vector<std::string> cells;
    std::istringstream parts(line.substr(1));
    for (std::string cell; std::getline(parts, cell, '|');) cells.push_back(trimmed(cell));
    if (cells.size() == columns && cells[0] != "#" && cells[0] != "trap") rows.push_back(cells);
  }
  return rows;
}

// "Suite.name" of every TEST in the project.
const std::set<std::string>& tests() {
  static const std::set<std::string> all = [] {
    std::set<std::string> names;
    for (const auto& entry : fs::recursive_directory_iterator(fs::path(PROVECUT_SOURCE_DIR) / "tests")) {
      if (entry.path().extension() != ".cpp") continue;
      std::istringstream text(readAll(entry.path()));
      for (std::string line; std::getline(text, line);) {
        const auto open = line.find('('), comma = line.find(", "), close = line.find(')');
        if (!line.starts_with("TEST") || comma == std::string::npos || close == std::string::npos) continue;
        names.insert(line.substr(open + 1, comma - open - 1) + "." + line.substr(comma + 2, close - comma - 2));
      }
    }
    return names;
  }();
  return all;
}

TEST(Stories, every_rule_and_every_test_that_is_named_exists) {
  const auto rows = rowsOf(5);
  ASSERT_EQ(rows.size(), 49u);
  for (const auto& row : rows) {
    SCOPED_TRACE(row[0] + " " + row[1]);
    std::istringstream rules(row[2]);
    for (std::string id; std::getline(rules, id, ',');) EXPECT_TRUE(findRule(trimmed(id))) << id;
    if (!row[3].empty()) {
      EXPECT_TRUE(tests().contains(row[3])) << row[3];
    }
    // A story without a rule says why, or its test is of something else than a rule.
    EXPECT_TRUE(!row[2].empty() || !row[3].empty() || !row[4].empty());
    EXPECT_TRUE(row[2].empty() || !row[3].empty()) << "no test";
  }
  const auto traps = rowsOf(2);
  EXPECT_GE(traps.size(), 7u);
  for (const auto& row : traps) EXPECT_TRUE(tests().contains(row[1])) << row[1];
}

}  // namespace
}  // namespace provecut
