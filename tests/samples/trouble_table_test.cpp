// The trouble job against the tables of its README, where each amount is worked out by hand.
#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <map>
#include <optional>
#include <sstream>
#include <tuple>
#include <vector>

#include "tests/samples/sample_run.h"

namespace provecut::samples {

namespace {

using Key = std::tuple<std::string, std::string, std::string>;  // rule, program, subject

struct Row {
  int line = 0;
  std::optional<double> amount;
  std::string unit;
};

std::string trimmed(const std::string& text) {
  const auto first = text.find_first_not_of(' ');
  return first == std::string::npos ? "" : text.substr(first, text.find_last_not_of(' ') - first + 1);
}

// | program:line | slip | rule | subject | amount unit | worked out |
std::map<Key, Row> tables() {
  std::map<Key, Row> rows;
  std::istringstream text(readFile(folder / "cribbage-board-trouble" / "README.md"));
  for (std::string line; std::getline(text, line);) {
    std::vector<std::string> cells;
    std::istringstream parts(line);
    for (std::string cell; std::getline(parts, cell, '|');) cells.push_back(trimmed(cell));
    if (cells.size() < 6) continue;
    const auto colon = cells[1].find(':');
    if (colon == std::string::npos || !std::isdigit(static_cast<unsigned char>(cells[1][colon + 1]))) continue;
    Row row;
    row.line = std::stoi(cells[1].substr(colon + 1));
    if (!cells[5].empty()) {
      std::istringstream amount(cells[5]);
      double value = 0;
      amount >> value >> row.unit;
      row.amount = value;
    }
    EXPECT_TRUE(rows.emplace(Key{cells[3], cells[1].substr(0, colon), cells[4]}, row).second) << "twice: " << line;
  }
  return rows;
}

std::string textOf(const nlohmann::json& value) {
  return value.is_string() ? value.get<std::string>() : "";
}

std::map<Key, nlohmann::json> findings(const nlohmann::json& report) {
  std::map<Key, nlohmann::json> found;
  for (const auto& f : report["findings"]) {
    // The job file is named as the command line gave it.
    const std::string file = std::filesystem::path(textOf(f["program"])).filename().string();
    const Key key{textOf(f["rule"]), file, textOf(f["subject"])};
    EXPECT_TRUE(found.emplace(key, f).second) << "twice: " << f.dump();
  }
  return found;
}

std::string shown(const Key& key) {
  return std::get<0>(key) + " in " + std::get<1>(key) + " " + std::get<2>(key);
}

// How far below and above the worked-out amount a finding may be.
std::pair<double, double> tolerance(const std::string& rule, double amount) {
  // Areas are counted in cells of 0.25 mm: a circle of radius 1.5 to about a tenth, larger ones better.
  if (rule == "offcut-free") return {0.15 * amount, 0.15 * amount};
  if (rule == "part-free") return {0.005 * amount, 0.005 * amount};
  if (rule == "tabs-weak") return {0.05 * amount, 0.05 * amount};
  // The web is thinnest under the drill's point, up to half a column's diagonal beside the nearest centre: 0.177 / tan
  // 59°.
  if (rule == "floor-thin") return {0.001, 0.107};
  return {0.0006, 0.0006};  // the table's own rounding
}

const Check& trouble() {
  static const Check checked = check("cribbage-board-trouble");
  return checked;
}

}  // namespace

TEST(CribbageBoardTrouble, stops_the_job_and_says_that_the_check_is_not_complete) {
  ASSERT_TRUE(trouble().report.is_object());
  EXPECT_EQ(trouble().status, 1);
  EXPECT_EQ(trouble().report["verdict"], "stop");
  EXPECT_EQ(trouble().report["complete"], false);
  EXPECT_EQ(trouble().report["not_checked"].size(), 2U);
}

TEST(CribbageBoardTrouble, is_found_out_as_its_tables_say_and_in_nothing_else) {
  ASSERT_TRUE(trouble().report.is_object());
  const auto rows = tables();
  const auto found = findings(trouble().report);
  ASSERT_EQ(rows.size(), 27U);
  for (const auto& [key, f] : found)
    EXPECT_TRUE(rows.contains(key)) << "not planted: " << shown(key) << ": " << f["message"];
  for (const auto& [key, row] : rows) EXPECT_TRUE(found.contains(key)) << "not found: " << shown(key);
}

TEST(CribbageBoardTrouble, has_the_lines_and_the_amounts_worked_out_by_hand) {
  ASSERT_TRUE(trouble().report.is_object());
  const auto found = findings(trouble().report);
  for (const auto& [key, row] : tables()) {
    const auto at = found.find(key);
    if (at == found.end()) continue;  // said above
    const nlohmann::json& f = at->second;
    EXPECT_EQ(f["line"], row.line) << shown(key);
    ASSERT_EQ(f["amount"].is_number(), row.amount.has_value()) << shown(key);
    if (!row.amount) continue;
    const auto [below, above] = tolerance(std::get<0>(key), *row.amount);
    EXPECT_GE(f["amount"].get<double>(), *row.amount - below) << shown(key);
    EXPECT_LE(f["amount"].get<double>(), *row.amount + above) << shown(key);
    EXPECT_EQ(textOf(f["unit"]), row.unit) << shown(key);
  }
}

TEST(CribbageBoardTrouble, is_hit_by_the_cutter_at_rapid_and_by_the_collet_nut) {
  ASSERT_TRUE(trouble().report.is_object());
  std::map<std::string, nlohmann::json> first;
  for (const auto& hit : trouble().report["hits"]) first.emplace(hit["subject"], hit);
  ASSERT_EQ(first.size(), 2U);
  EXPECT_EQ(first["screw SW"]["tool_part"], "cutter");
  EXPECT_EQ(first["screw SW"]["motion"], "rapid");
  EXPECT_EQ(first["clamp S"]["tool_part"], "collet nut");
  EXPECT_EQ(first["clamp S"]["motion"], "feed");
}

}  // namespace provecut::samples
