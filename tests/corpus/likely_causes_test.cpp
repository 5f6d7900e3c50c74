// One wrong word in the job files of real programs, each checked as a whole. The programs lie outside the project, in
// ../shared/corpus: without them the tests are skipped.
#include <gmock/gmock.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "tests/paths.h"
#include "tests/process.h"

namespace provecut::planted {

namespace fs = std::filesystem;

static const fs::path corpus = fs::path(PROVECUT_SOURCE_DIR) / ".." / "shared" / "corpus";
static const fs::path jobs = fs::path(PROVECUT_SOURCE_DIR) / "tests" / "corpus" / "jobs";

static std::string bytesOf(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

// A row of planted.tsv.
struct Planted {
  std::string what, number;  // of the program
  std::string in;            // "job", "program", or "arcs": their centres are written as places
  std::string from, to;      // each place
  std::string kind, question;
};

static void PrintTo(const Planted& planted, std::ostream* out) {
  *out << planted.what << " in " << planted.number;
}

static void replaceAll(std::string& text, const std::string& from, const std::string& to) {
  if (from.empty()) return;
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
    text.replace(at, from.size(), to);
}

// Arcs in XY with I and J as an exporter writes them that takes G90.1 for granted.
static std::string withCentresAsPlaces(const std::string& program) {
  static const std::regex word(R"(([A-Z])\s*([-+]?[0-9]*\.?[0-9]+))"), comment(R"(\([^)]*\)?|;.*)");
  std::istringstream lines(program);
  std::string text;
  double x = 0, y = 0;
  int motion = 0, plane = 17;
  for (std::string line; std::getline(lines, line);) {
    const std::string code = std::regex_replace(line, comment, "");
    std::map<char, double> words;
    bool home = false;
    for (std::sregex_iterator at(code.begin(), code.end(), word), end; at != end; ++at) {
      const char letter = (*at)[1].str()[0];
      const double value = std::stod((*at)[2]);
      if (letter != 'G') {
        words[letter] = value;
      } else if (value >= 0 && value <= 3) {
        motion = static_cast<int>(value);
      } else if (value >= 17 && value <= 19) {
        plane = static_cast<int>(value);
      } else {
        home = home || value == 28 || value == 53;
      }
    }
    if (motion >= 2 && plane == 17 && (words.contains('I') || words.contains('J'))) {
      char centre[64];
      std::snprintf(centre, sizeof centre, "I%.4f J%.4f", x + words['I'], y + words['J']);
      line = std::regex_replace(code, std::regex(R"([IJ]\s*[-+]?[0-9]*\.?[0-9]+)"), "") + " " + centre;
    }
    if (!home && words.contains('X')) x = words['X'];
    if (!home && words.contains('Y')) y = words['Y'];
    text += line + "\n";
  }
  return text;
}

static bool plantedIn(std::string& text, const Planted& planted) {
  if (planted.in == "arcs") {
    text = withCentresAsPlaces(text);
    return true;
  }
  if (text.find(planted.from) == std::string::npos) return false;
  replaceAll(text, planted.from, planted.to);
  return true;
}

static nlohmann::json checkedWith(const Planted& planted) {
  const testing::TempFolder folder;
  std::string job = bytesOf(jobs / (planted.number + ".toml"));
  for (const auto& file : fs::directory_iterator(corpus)) {
    const std::string name = file.path().filename().string();
    if (!name.starts_with(planted.number + "-")) continue;
    std::string program = bytesOf(file.path());
    if (planted.in == "program" || planted.in == "arcs") {
      EXPECT_TRUE(plantedIn(program, planted)) << planted.from;
    }
    folder.write(name, program);
  }
  if (planted.in == "job") {
    EXPECT_TRUE(plantedIn(job, planted)) << planted.from;
  }
  folder.write("job.toml", job);
  return nlohmann::json::parse(
      testing::runProcess(folder.path(), {PROVECUT_PROGRAM, "check", "job.toml", "--format", "json"}).out);
}

static nlohmann::json asTheirOwnersWouldWriteIt(const std::string& number) {
  return checkedWith({"nothing", number, "", "", "", "", ""});
}

static std::string unescaped(std::string text) {
  replaceAll(text, "\\n", "\n");
  return text;
}

static std::vector<Planted> plantedRows() {
  std::ifstream in(fs::path(PROVECUT_SOURCE_DIR) / "tests" / "corpus" / "planted.tsv");
  std::vector<Planted> rows;
  std::string line;
  std::getline(in, line);
  while (std::getline(in, line)) {
    std::vector<std::string> cells;
    std::istringstream row(line);
    for (std::string cell; std::getline(row, cell, '\t');) cells.push_back(cell);
    if (cells.size() == 7)
      rows.push_back({cells[0], cells[1], cells[2], unescaped(cells[3]), unescaped(cells[4]), cells[5], cells[6]});
    else
      ADD_FAILURE() << "planted.tsv: " << line;
  }
  return rows;
}

class PlantedCause : public ::testing::TestWithParam<Planted> {};

// Where another explains it as well, both are asked first.
TEST_P(PlantedCause, is_named_first) {
  if (!fs::exists(corpus)) GTEST_SKIP() << "no programs at " << corpus;
  const nlohmann::json causes = checkedWith(GetParam())["likely_causes"];
  ASSERT_FALSE(causes.empty());
  std::vector<std::string> first;
  for (const auto& cause : causes) {
    if (!first.empty() && !(causes[0]["one_of_several"].get<bool>() && cause["one_of_several"].get<bool>())) break;
    first.push_back(cause["kind"].get<std::string>() + ": " + cause["question"].get<std::string>());
  }
  EXPECT_THAT(first, ::testing::Contains(GetParam().kind + ": " + GetParam().question));
}

INSTANTIATE_TEST_SUITE_P(InRealPrograms, PlantedCause, ::testing::ValuesIn(plantedRows()),
                         [](const ::testing::TestParamInfo<Planted>& planted) {
                           std::string name = planted.param.what + "_" + planted.param.number;
                           replaceAll(name, "-", "_");
                           return name;
                         });

TEST(LikelyCausesInRealPrograms, all_stops_of_misread_arcs_are_told_under_them_and_what_stays_is_told_in_full) {
  if (!fs::exists(corpus)) GTEST_SKIP() << "no programs at " << corpus;
  std::set<std::string> under, in_full;
  const nlohmann::json report = asTheirOwnersWouldWriteIt("50");
  for (const auto& f : report["findings"]) {
    EXPECT_TRUE(f["level"] != "stop" || f["likely_cause"] == 0) << f["message"];
    if (f["level"] != "note") (f["likely_cause"] == 0 ? under : in_full).insert(f["rule"].get<std::string>());
  }
  // No part is free where the cut reads nonsense.
  EXPECT_TRUE(under.contains("arc-radius") && under.contains("part-free") && under.contains("travel-exceeded"));
  // Its tabs are 0.4 mm thick and M26 is a code of one machine, whatever the arcs mean.
  EXPECT_TRUE(in_full.contains("tabs-weak") && in_full.contains("machine-function-unknown"));
}

TEST(LikelyCausesInRealPrograms, jobs_as_their_owners_would_write_them_have_none) {
  if (!fs::exists(corpus)) GTEST_SKIP() << "no programs at " << corpus;
  // Left out: 30, which takes half a minute; 37 and 50, which are misread.
  for (const char* number :
       {"01", "02", "03", "04", "05", "06", "07", "08", "09", "10", "12", "15", "16", "17", "18", "19", "20",
        "21", "22", "23", "25", "26", "27", "28", "29", "31", "32", "33", "34", "35", "36", "38", "39", "40",
        "41", "44", "46", "47", "48", "49", "51", "52", "53", "54", "55", "56", "60", "61", "62"}) {
    const nlohmann::json report = asTheirOwnersWouldWriteIt(number);
    EXPECT_EQ(report["likely_causes"], nlohmann::json::array()) << number;
  }
}

}  // namespace provecut::planted
