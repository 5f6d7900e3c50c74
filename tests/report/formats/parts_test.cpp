// The pieces of a job as they are read in the report: in its text and its JSON.
#include <gmock/gmock.h>

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "tests/report/running.h"

namespace provecut {
namespace {

using ::testing::HasSubstr;
using testing::Ran;
using testing::runProvecut;
using testing::smallJob;
using testing::TempFolder;
using Json = nlohmann::json;

// Lines 1 to 4.
constexpr std::string_view head = "G21 G90 G17 G94 G54\nT1 M6\nS12000 M3\nG4 P5\n";

// A square kerf right through about (60, 40) with the 6 mm bit, as wide inside as `side`: eight lines, the last but one
// closes it.
std::string kerf(double side) {
  const double h = (side + 6) / 2;
  const auto at = [&](double x, double y) {
    return "X" + std::to_string(60 + x * h) + " Y" + std::to_string(40 + y * h) + "\n";
  };
  return "G0 Z10\nG0 " + at(-1, -1) + "G1 Z-10.2 F300\nG1 " + at(1, -1) + "G1 " + at(1, 1) + "G1 " + at(-1, 1) + "G1 " +
         at(-1, -1) + "G0 Z10\n";
}

// The outline comes off at line 11, an inner loop splits it at line 19, and the inner piece is milled away.
std::string splitting() {
  std::string text = std::string(head) + kerf(37) + kerf(13);
  for (int k = 0; k < 5; ++k) {
    const std::string x = std::to_string(54 + 3 * k);
    text += "G0 Z10\nG0 X" + x + " Y32\nG1 Z-10.2\nG1 Y48\n";
  }
  return text + "G0 Z10\nM5\nM30\n";
}

struct Split {
  TempFolder folder;
  Split() {
    folder.write("a.nc", splitting());
    folder.write("job.toml", smallJob({"a.nc"}));
  }
  Ran run(const std::vector<std::string>& arguments) const { return runProvecut(folder, arguments); }
};

Json moment(int line) {
  return {{"program", "a.nc"}, {"line", line}};
}

TEST(Parts, the_text_lists_them_in_order_of_time) {
  EXPECT_THAT(Split().run({"check", "job.toml"}).out,
              HasSubstr("  parts\n  line 11: 37 × 37 mm comes loose, held by nothing\n"
                        "  line 19: 13 × 13 mm comes off the loose piece of line 11; milled away by line 36\n"));
}

TEST(Parts, the_report_tells_what_came_off_what_and_what_became_of_it) {
  const Json parts = Json::parse(Split().run({"check", "job.toml", "--format", "json"}).out)["parts"];
  ASSERT_EQ(parts.size(), 2U);
  const Json &whole = parts[0], &slug = parts[1];
  EXPECT_EQ(whole["line"], 11);
  EXPECT_EQ(whole["parent"], nullptr);
  EXPECT_EQ(whole["loosened"], moment(11));
  EXPECT_EQ(whole["split"], Json({1}));
  EXPECT_EQ(whole["milled"], nullptr);
  EXPECT_NEAR(whole["plan_area_mm2"], 37 * 37, 37);
  EXPECT_NEAR(whole["volume_mm3"], 37 * 37 * 10, 370);
  EXPECT_EQ(whole["held_by"], Json::array());
  ASSERT_EQ(whole["cut_while_loose"].size(), 1U);
  const Json& into = whole["cut_while_loose"][0]["into"];
  ASSERT_FALSE(into.empty());
  EXPECT_EQ(into[0][0], 15) << "the plunge into the loose piece";
  EXPECT_EQ(slug["line"], 19);
  EXPECT_EQ(slug["parent"], 0);
  EXPECT_EQ(slug["free"], true);
  EXPECT_EQ(slug["milled"], moment(36));
}

}  // namespace
}  // namespace provecut
