// SARIF 2.1.0 as OASIS wrote it down (clauses are named); validate_sarif.py holds whole logs to its JSON Schema.
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <string>

#include "report/base/digest.h"
#include "tests/report/running.h"

namespace provecut {
namespace {

using nlohmann::json;
using testing::runProvecut;
using testing::smallJob;
using testing::TempFolder;

constexpr std::string_view into_the_screw =
    "G21 G90 G17 G94\nT1 M6\nS12000 M3\nG0 X50 Y40 Z5\nG1 Z-1 F300\nG1 X60\nG1 X10 Y10\nG0 Z20\nM30\n";

json logOf(const TempFolder& folder, const std::string& job = "job.toml") {
  return json::parse(runProvecut(folder, {"check", job, "--format", "sarif"}).out);
}

json resultOf(const json& log, std::string_view rule) {
  for (const json& r : log["runs"][0]["results"]) {
    if (r["ruleId"] == rule) return r;
  }
  return nullptr;
}

std::string fingerprint(const json& result) {
  return result["partialFingerprints"]["provecut/block/v1"];
}

TEST(Sha256, gives_the_digests_of_the_standards_examples) {
  // NIST, "Cryptographic Standards and Guidelines: Examples with Intermediate Values", SHA256.pdf; the last one FIPS
  // 180-2 B.3.
  EXPECT_EQ(sha256("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  EXPECT_EQ(sha256(std::string(1'000'000, 'a')), "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

TEST(Sarif, a_stop_is_an_error_at_its_words_and_points_to_the_hold_down) {
  TempFolder folder;
  folder.write("a.nc", into_the_screw);
  folder.write("job.toml", smallJob({"a.nc"}));
  const json r = resultOf(logOf(folder), "hold-down-hit");
  ASSERT_FALSE(r.is_null());
  EXPECT_EQ(r["level"], "error");  // 3.27.10
  const json& place = r["locations"][0]["physicalLocation"];
  EXPECT_EQ(place["artifactLocation"]["uri"], "a.nc");
  EXPECT_EQ(
      place["region"],
      json({{"startLine", 7}, {"startColumn", 4}, {"endLine", 7}, {"endColumn", 11}}));  // 3.30.8: one past the end
  ASSERT_FALSE(r["relatedLocations"].empty());
  EXPECT_EQ(r["relatedLocations"][0]["physicalLocation"]["artifactLocation"]["uri"], "job.toml");
  EXPECT_TRUE(r.count("suppressions") == 0);
}

TEST(Sarif, columns_count_code_points_and_it_says_so) {
  TempFolder folder;
  std::string text(into_the_screw);
  text.replace(text.find("G1 X10"), 6, "(\xC3\xB8) G1 X10");
  folder.write("a.nc", text);
  folder.write("job.toml", smallJob({"a.nc"}));
  const json log = logOf(folder);
  EXPECT_EQ(log["runs"][0]["columnKind"], "unicodeCodePoints");  // 3.14.17
  EXPECT_EQ(resultOf(log, "hold-down-hit")["locations"][0]["physicalLocation"]["region"]["startColumn"], 8);
}

TEST(Sarif, a_fingerprint_survives_lines_put_in_before_and_new_block_numbers) {
  TempFolder folder;
  folder.write("a.nc", into_the_screw);
  folder.write("job.toml", smallJob({"a.nc"}));
  const std::string before = fingerprint(resultOf(logOf(folder), "hold-down-hit"));
  std::string numbered = "(exported again)\n(with a longer head)\n";
  int number = 10;
  std::string_view rest = into_the_screw;
  while (!rest.empty()) {
    const std::string_view line = rest.substr(0, rest.find('\n'));
    rest.remove_prefix(line.size() + 1);
    numbered += "N" + std::to_string(number += 10) + "  " + std::string(line) + "\r\n";
  }
  folder.write("a.nc", numbered);
  const json shifted = resultOf(logOf(folder), "hold-down-hit");
  EXPECT_EQ(shifted["locations"][0]["physicalLocation"]["region"]["startLine"], 9);
  EXPECT_EQ(fingerprint(shifted), before);

  std::string other(into_the_screw);
  other.replace(other.find("X10 Y10"), 7, "X10 Y11");
  folder.write("a.nc", other);
  EXPECT_NE(fingerprint(resultOf(logOf(folder), "hold-down-hit")), before);
}

TEST(Sarif, an_accepted_finding_is_suppressed_with_its_reason) {
  TempFolder folder;
  folder.write("a.nc", into_the_screw);
  folder.write("job.toml", smallJob({"a.nc"}, "[[accept]]\nrule = \"hold-down-hit\"\nreason = \"a screw of brass\"\n"));
  const json suppressions = resultOf(logOf(folder), "hold-down-hit")["suppressions"];
  ASSERT_EQ(suppressions.size(), 1u);
  EXPECT_EQ(suppressions[0]["kind"], "external");  // 3.35.2: it stands outside the program
  EXPECT_EQ(suppressions[0]["status"], "accepted");
  EXPECT_EQ(suppressions[0]["justification"], "a screw of brass");
}

TEST(Sarif, what_was_not_checked_is_a_notification) {
  TempFolder folder;
  folder.write("a.nc", "G21 G90\nT7 M6\nS12000 M3\nG0 X50 Y40 Z5\nG1 X10 F300\nM30\n");
  folder.write("job.toml", smallJob({"a.nc"}));
  const json run = logOf(folder)["runs"][0];
  EXPECT_EQ(run["properties"]["complete"], false);
  const json& notes = run["invocations"][0]["toolExecutionNotifications"];
  ASSERT_EQ(notes.size(), 1u);
  EXPECT_NE(notes[0]["message"]["text"].get<std::string>().find("tool 7"), std::string::npos);
}

TEST(Sarif, a_file_name_is_written_as_a_uri_reference) {
  TempFolder folder;
  folder.write("a b%.nc", into_the_screw);
  folder.write("job.toml", smallJob({"a b%.nc"}));
  // RFC 3986, 2.1: stock and a percent sign are written as octets.
  EXPECT_EQ(resultOf(logOf(folder), "hold-down-hit")["locations"][0]["physicalLocation"]["artifactLocation"]["uri"],
            "a%20b%25.nc");
}

TEST(Sarif, every_rule_brings_its_help_and_level) {
  TempFolder folder;
  folder.write("a.nc", into_the_screw);
  folder.write("job.toml", smallJob({"a.nc"}));
  const json log = logOf(folder);
  const json& rules = log["runs"][0]["tool"]["driver"]["rules"];
  ASSERT_GT(rules.size(), 40u);
  EXPECT_TRUE(std::all_of(rules.begin(), rules.end(), [](const json& r) {
    return !r["help"]["markdown"].get<std::string>().empty() &&
           !r["shortDescription"]["text"].get<std::string>().empty();
  }));
}

}  // namespace
}  // namespace provecut
