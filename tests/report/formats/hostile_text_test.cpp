// A job that tries: markup, quotes, terminal escapes, direction marks and formulas in every name and comment. Whatever
// the format, they come out as text.
#include <gmock/gmock.h>

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "tests/report/running.h"

namespace provecut {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;
using testing::Ran;
using testing::runProvecut;
using testing::TempFolder;

// As TOML writes it, and the file's own name. A job file with control characters in a name is refused; programs have
// them.
constexpr std::string_view evil_toml = R"(=1+cmd|'<script>alert(1)</script>\u202e&\"'></svg><img src=x onerror=1>)";
constexpr std::string_view evil_file_toml = R"(=a<b>&'\u202e\".nc)";
constexpr std::string_view evil_file = "=a<b>&'\xE2\x80\xAE\".nc";

TempFolder& hostileJob() {
  static TempFolder folder;
  static bool written = false;
  if (written) return folder;
  written = true;
  folder.write(
      std::string(evil_file),
      "(<script>alert(2)</script> \x1b[2J \xE2\x80\xAE \")\nG21 G90 G17 G94\nT1 M6\nS12000 M3\nG4 P5\nG0 X50 Y40 "
      "Z10\nG1 Z-2 F300\n"
      "G1 X10 Y10 (</pre><script>alert(3)</script>\x1b[31m\xE2\x80\xAE)\nG1 X<b>\nT9 M6\nG0 X0\nG0 Z10\nM30\n");
  const std::string evil(evil_toml);
  folder.write("job.toml",
               "version = 1\nname = \"" + evil + "\"\n[stock]\nsize = [100, 80, 10]\n[[tool]]\nnumber = 1\nname = \"" +
                   evil +
                   "\"\nshape = \"flat\"\ndiameter = 6\nflute_length = 22\nshank_diameter = 6\nstickout = 35\n"
                   "[[spindle_attachment]]\nname = \"" +
                   evil +
                   "\"\ndiameter = 90\nbottom = -33\ntop = 40\n"
                   "[[hold_down]]\nname = \"" +
                   evil +
                   "\"\nkind = \"screw\"\nat = [10, 10]\ndiameter = 10\ntop = 4\n"
                   "[[accept]]\nrule = \"start-state\"\nreason = \"" +
                   evil +
                   "\"\n"
                   "[quote]\ncurrency = \"" +
                   evil +
                   "\"\nmachine_rate = 10\nlabour_rate = 10\nmargin = 0.2\n"
                   "[[setup]]\nname = \"" +
                   evil + "\"\nzero = [\"left\", \"front\", \"top\"]\nhold_downs = [\"" + evil +
                   "\"]\n"
                   "[[setup.program]]\nfile = \"" +
                   std::string(evil_file_toml) + "\"\ntool = 1\n");
  return folder;
}

// No format lets a control byte or a mark through that turns the order of text round.
void expectVisible(const std::string& text) {
  for (const char c : text) ASSERT_TRUE(static_cast<unsigned char>(c) >= 0x20 || c == '\n') << static_cast<int>(c);
  for (const char* mark : {"\xE2\x80\xAE", "\xE2\x80\xAB", "\xE2\x81\xA6"}) EXPECT_THAT(text, Not(HasSubstr(mark)));
}

void expectNoMarkup(const std::string& page) {
  expectVisible(page);
  for (const char* tag : {"<script", "<img", "<b>", "</svg><", "onerror=1>"}) EXPECT_THAT(page, Not(HasSubstr(tag)));
}

std::string ran(std::vector<std::string> arguments, int status) {
  const Ran r = runProvecut(hostileJob(), arguments);
  EXPECT_EQ(r.status, status) << r.err;
  expectVisible(r.err);
  return r.out;
}

TEST(HostileText, in_a_terminal_is_shown_and_does_nothing) {
  const std::string text = ran({"check", "job.toml"}, 1);
  expectVisible(text);
  EXPECT_THAT(text, HasSubstr("\\u{202E}"));
  EXPECT_THAT(text, HasSubstr("\\x1B"));
  expectVisible(ran({"check", "job.toml", "--quiet"}, 1));
  expectVisible(ran({"time", "job.toml"}, 1));
  expectVisible(ran({"quote", "job.toml"}, 1));
}

TEST(HostileText, in_json_and_sarif_is_a_string) {
  for (const char* format : {"json", "sarif"}) {
    const std::string text = ran({"check", "job.toml", "--format", format}, 1);
    expectVisible(text);
    const auto document = nlohmann::json::parse(text);
    EXPECT_FALSE(document.is_discarded());
  }
  const auto sarif = nlohmann::json::parse(ran({"check", "job.toml", "--format", "sarif"}, 1));
  for (const auto& a : sarif["runs"][0]["artifacts"]) {
    const std::string uri = a["location"]["uri"];
    EXPECT_EQ(uri.find_first_of("<>\" "), std::string::npos) << uri;
  }
}

TEST(HostileText, on_the_sheet_and_on_the_quote_is_text) {
  expectNoMarkup(ran({"sheet", "job.toml"}, 1));
  expectNoMarkup(ran({"quote", "job.toml", "--format", "html"}, 1));
}

TEST(HostileText, in_pictures_and_their_names_is_text) {
  ran({"export", "job.toml", "--pictures", "--output", "pictures"}, 1);
  int pictures = 0;
  for (const auto& entry : std::filesystem::directory_iterator(hostileJob().path() / "pictures")) {
    const std::string name = entry.path().filename().string();
    EXPECT_EQ(name.find_first_not_of("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789.-"),
              std::string::npos)
        << name;
    std::string svg = hostileJob().read("pictures/" + name);
    svg.erase(0, svg.find('\n') + 1);
    expectNoMarkup(svg);
    ++pictures;
  }
  EXPECT_GE(pictures, 2);
}

TEST(HostileText, in_csv_is_quoted_and_no_formula) {
  const std::string csv = ran({"export", "job.toml", "--hits"}, 1);
  expectVisible(csv);
  EXPECT_THAT(csv, HasSubstr("\"'=1+cmd|"));
  EXPECT_THAT(csv, HasSubstr("\"\"'>"));
  EXPECT_THAT(csv, Not(HasSubstr("\"=")));
}

TEST(HostileText, where_hold_downs_may_stand_is_text) {
  expectVisible(ran({"place", "job.toml"}, 1));
  const std::string json = ran({"place", "job.toml", "--format", "json"}, 1);
  expectVisible(json);
  EXPECT_FALSE(nlohmann::json::parse(json).is_discarded());
  expectNoMarkup(ran({"place", "job.toml", "--format", "svg"}, 1));
}

TEST(HostileText, in_what_every_move_meets_and_where_to_restart_is_text) {
  expectVisible(ran({"export", "--engagement", "job.toml"}, 1));
  expectVisible(ran({"resume", "job.toml"}, 1));
  expectVisible(ran({"check", "job.toml", "--verbose"}, 1));
}

TEST(HostileText, in_a_mesh_file_stays_in_its_line) {
  const std::string ply = ran({"export", "job.toml", "--ply"}, 1);
  const std::string head = ply.substr(0, ply.find("end_header\n"));
  expectVisible(head);
  for (const char c : head) EXPECT_TRUE(c == '\n' || (c >= ' ' && c <= '~')) << static_cast<int>(c);
}

}  // namespace
}  // namespace provecut
