#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <set>
#include <string>

#include "parser/program/problem_ids.h"
#include "report/rules/problem_rules.h"
#include "report/rules/rule.h"
#include "tests/paths.h"

namespace provecut {
namespace {

TEST(RuleList, bears_each_id_once) {
  std::set<std::string_view> ids;
  for (const Rule* rule : allRules()) EXPECT_TRUE(ids.insert(rule->id).second) << rule->id;
}

std::set<std::string_view> readerIds() {
  std::set<std::string_view> ids;
  for (const ProblemIds& p : problem_ids) ids.insert({p.usual, p.strict});
  ids.erase("");
  return ids;
}

TEST(RuleList, has_a_rule_for_every_id_of_the_program_reader_and_no_other) {
  std::set<std::string_view> ruled;
  for (const Rule& rule : problemRules()) ruled.insert(rule.id);
  EXPECT_EQ(ruled, readerIds());
  for (const std::string_view id : ruled) EXPECT_NE(findRule(id), nullptr) << id;
}

TEST(RuleList, names_every_file_of_a_rule) {
  const std::filesystem::path folder = std::filesystem::path(PROVECUT_SOURCE_DIR) / "report/rules";
  std::size_t files = 0;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(folder)) {
    const std::filesystem::path& path = entry.path();
    // Directly in the folder are the lists, in shared/ what rules have in common.
    if (path.extension() != ".cpp" || path.parent_path() == folder || path.parent_path().filename() == "shared")
      continue;
    std::string id = path.stem().string();
    std::replace(id.begin(), id.end(), '_', '-');
    EXPECT_NE(findRule(id), nullptr) << path.filename() << " is not in report/rules/list.cpp";
    ++files;
  }
  EXPECT_GT(files, 60u);
}

TEST(RuleList, has_a_page_with_its_parts_for_each_rule) {
  for (const Rule* rule : allRules()) {
    EXPECT_FALSE(rule->summary.empty()) << rule->id;
    for (const std::string_view heading : {"## What it finds\n", "## What to do\n", "## What `amount` is\n"}) {
      EXPECT_NE(rule->page.find(heading), std::string_view::npos) << rule->id << ": " << heading;
    }
  }
}

TEST(RuleList, an_unknown_id_has_no_rule) {
  EXPECT_EQ(findRule("never-heard-of"), nullptr);
}

}  // namespace
}  // namespace provecut
