// What every rule must have, and that the folder, the list and the tests name the same rules.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <set>
#include <string>

#include "report/rules/rule.h"
#include "tests/paths.h"

namespace provecut {
namespace {

const std::filesystem::path source_dir = PROVECUT_SOURCE_DIR;

std::string contents(const std::filesystem::path& path) {
  std::ifstream in(path);
  return {std::istreambuf_iterator<char>(in), {}};
}

// Ids that the files of report/rules define, with the file that does.
std::set<std::string> idsInFiles() {
  std::set<std::string> ids;
  const std::regex descriptor(R"(const Rule (\w+)_rule\{"([a-z0-9-]+)\")");
  for (const auto& entry : std::filesystem::directory_iterator(source_dir / "report" / "rules")) {
    if (entry.path().extension() != ".cpp") continue;
    const std::string text = contents(entry.path());
    for (std::sregex_iterator it(text.begin(), text.end(), descriptor), end; it != end; ++it) {
      std::string id = (*it)[2], name = id;
      std::replace(name.begin(), name.end(), '-', '_');
      EXPECT_EQ((*it)[1], name) << entry.path();
      EXPECT_EQ(entry.path().stem(), name);
      ids.insert(id);
    }
  }
  return ids;
}

TEST(Catalogue, every_rule_file_is_in_the_list) {
  const auto ids = idsInFiles();
  ASSERT_GE(ids.size(), 18u);
  for (const std::string& id : ids) EXPECT_NE(findRule(id), nullptr) << id;
}

TEST(Catalogue, ids_are_unique_and_written_in_one_way) {
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
  for (const Rule* rule : allRules()) {
    if (!rule->check) continue;
    std::string name(rule->id);
    std::replace(name.begin(), name.end(), '-', '_');
    if (rule->id == "assumed") continue;  // tested with the command line
    EXPECT_TRUE(std::filesystem::exists(source_dir / "tests" / "rules" / (name + "_test.cpp"))) << name;
  }
}

}  // namespace
}  // namespace provecut
