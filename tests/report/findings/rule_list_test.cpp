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

TEST(RuleList, has_a_rule_for_every_id_of_the_program_reader) {
  for (const ProblemId& p : problem_ids) EXPECT_NE(findRule(p.id), nullptr) << p.id;
}

TEST(RuleList, gives_every_id_of_the_program_reader_a_level_of_its_own) {
  for (const ProblemId& p : problem_ids) EXPECT_TRUE(hasLevel(p.id)) << p.id;
}

TEST(RuleList, names_every_file_of_a_rule) {
  // Files beside the rules that hold no rule but what rules share.
  const std::set<std::string> shared{"list",       "problem_rules",    "wording",        "measures",
                                     "grouping",   "hold_down_advice", "piece_findings", "chip_load_table",
                                     "tab_margin", "thickness_text"};
  const std::filesystem::path folder = std::filesystem::path(PROVECUT_SOURCE_DIR) / "report/rules";
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    if (entry.path().extension() != ".cpp") continue;
    std::string id = entry.path().stem().string();
    if (shared.contains(id)) continue;
    std::replace(id.begin(), id.end(), '_', '-');
    EXPECT_NE(findRule(id), nullptr) << entry.path().filename() << " is not in report/rules/list.cpp";
  }
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
