// What every rule must have, and that the folder, the list and the tests name the same rules.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <set>
#include <string>

#include "parser/program/problem_ids.h"
#include "report/rules/rule.h"
#include "tests/paths.h"

namespace provecut {
namespace {

namespace fs = std::filesystem;

const fs::path source_dir = PROVECUT_SOURCE_DIR;

std::string contents(const fs::path& path) {
  std::ifstream in(path);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::string underscored(std::string id) {
  std::replace(id.begin(), id.end(), '-', '_');
  return id;
}

// Ids that the files of report/rules define. A file of the rooms beside `shared` holds one rule, named like the file.
std::set<std::string> idsInFiles() {
  std::set<std::string> ids;
  const std::regex descriptor(R"(const Rule (\w+)_rule\{"([a-z0-9-]+)\")");
  for (const auto& room : fs::directory_iterator(source_dir / "report" / "rules")) {
    if (!room.is_directory() || room.path().filename() == "shared") continue;
    for (const auto& entry : fs::directory_iterator(room)) {
      if (entry.path().extension() != ".cpp") continue;
      const std::string text = contents(entry.path());
      std::smatch rule;
      EXPECT_TRUE(std::regex_search(text, rule, descriptor)) << entry.path() << " defines no rule";
      if (rule.empty()) continue;
      EXPECT_EQ(rule[1], underscored(rule[2])) << entry.path();
      EXPECT_EQ(entry.path().stem(), underscored(rule[2]));
      ids.insert(rule[2]);
    }
  }
  return ids;
}

TEST(Catalogue, every_rule_file_is_in_the_list_and_every_rule_has_its_file) {
  const auto ids = idsInFiles();
  for (const std::string& id : ids) EXPECT_NE(findRule(id), nullptr) << id;
  for (const Rule* rule : allRules()) {
    if (rule->check) {
      EXPECT_TRUE(ids.contains(std::string(rule->id))) << rule->id;
    }
  }
}

TEST(Catalogue, ids_are_unique_and_written_in_one_way) {
  ASSERT_FALSE(allRules().empty());
  std::set<std::string_view> seen;
  for (const Rule* rule : allRules()) {
    EXPECT_TRUE(seen.insert(rule->id).second) << rule->id;
    EXPECT_TRUE(std::regex_match(std::string(rule->id), std::regex("[a-z]+(-[a-z0-9]+)*"))) << rule->id;
    EXPECT_TRUE(rule->summary.ends_with('.')) << rule->id;
  }
}

TEST(Catalogue, every_page_tells_what_to_do_and_what_the_amount_is) {
  const auto own = idsInFiles();
  for (const Rule* rule : allRules()) {
    for (const char* heading : {"## What it finds\n", "## What to do\n", "## What `amount` is\n"}) {
      EXPECT_NE(rule->page.find(heading), std::string_view::npos) << rule->id << ": " << heading;
    }
    if (!own.contains(std::string(rule->id))) continue;
    for (const char* heading : {"## Why it matters\n", "## Example\n"}) {
      EXPECT_NE(rule->page.find(heading), std::string_view::npos) << rule->id << ": " << heading;
    }
  }
}

TEST(Catalogue, every_rule_that_looks_at_the_facts_has_a_test_of_its_own) {
  std::set<std::string> tests;
  for (const auto& entry : fs::recursive_directory_iterator(source_dir / "tests" / "report" / "rules"))
    tests.insert(entry.path().filename().string());
  for (const Rule* rule : allRules()) {
    // These are tested with the command line.
    if (!rule->check || rule->id == "assumed" || rule->id == "syntax" || rule->id == "accept-unused") continue;
    EXPECT_TRUE(tests.contains(underscored(std::string(rule->id)) + "_test.cpp")) << rule->id;
  }
}

TEST(Catalogue, every_complaint_of_the_program_reader_has_a_rule) {
  for (const ProblemIds& p : problem_ids) {
    for (const std::string_view id : {p.usual, p.strict}) {
      if (id.empty()) continue;
      EXPECT_NE(findRule(id), nullptr) << id;
    }
  }
}

TEST(Catalogue, a_retired_id_is_still_explained_and_listed_no_more) {
  const Rule* rule = findRule("repeated-point");
  ASSERT_NE(rule, nullptr);
  EXPECT_TRUE(rule->summary.starts_with("Retired"));
  EXPECT_EQ(std::count_if(allRules().begin(), allRules().end(), [&](const Rule* r) { return r->id == rule->id; }), 0);
}

TEST(Catalogue, an_unknown_id_has_no_rule) {
  EXPECT_EQ(findRule("never-heard-of"), nullptr);
}

// The words that a person meets are short and plain; these crept in before.
TEST(Catalogue, no_page_or_summary_uses_words_of_our_own_making) {
  const std::regex coined(R"(\b(skim|blank|hanging|hangs on|lying frame|whether|of which|that of it|mm2|mm3)\b)");
  for (const Rule* rule : allRules()) {
    if (!rule->check) continue;
    std::cmatch found;
    EXPECT_FALSE(std::regex_search(rule->page.begin(), rule->page.end(), found, coined)) << rule->id << found.str();
    EXPECT_FALSE(std::regex_search(rule->summary.begin(), rule->summary.end(), coined)) << rule->id;
  }
}

}  // namespace
}  // namespace provecut
