// Round stock in all that is written of it.
#include <gmock/gmock.h>

#include <nlohmann/json.hpp>
#include <string>

#include "tests/report/running.h"

namespace provecut {
namespace round_stock_formats_test {

using ::testing::HasSubstr;
using ::testing::Not;
using testing::runProvecut;
using testing::TempFolder;
using Json = nlohmann::json;

// A disc of 120 × 12 mm held from below, zero in its middle; the program dives through a corner of the square about it,
// then cuts a disc of 40 mm out of its middle and a groove.
struct Disc {
  TempFolder folder;
  explicit Disc(const std::string& shape = "shape = \"round\"\n", const std::string& held = "held_by = \"vacuum\"\n") {
    folder.write("a.nc",
                 "G21 G90 G17 G94 G54\nT1 M6\nS12000 M3\nG4 P5\nG0 X-48 Y-48\nG0 Z-6\nG0 Z10\nG0 X23 Y0\nG1 Z-12.2 "
                 "F300\nG2 X23 Y0 I-23 J0 F1500\nG0 Z10\nG0 X35 Y-10\nG1 Z-3 F300\nG1 Y10 F1500\nG0 Z10\nM5\nM30\n");
    folder.write("job.toml", "version = 1\n[stock]\nsize = [120, 120, 12]\n" + shape +
                                 "[[tool]]\nnumber = 1\nshape = \"flat\"\ndiameter = 6\nflute_length = 22\n[[setup]]\n"
                                 "zero = [\"center\", \"center\", \"top\"]\n" +
                                 held + "[[setup.program]]\nfile = \"a.nc\"\n");
  }
  std::string out(const std::vector<std::string>& arguments) const { return runProvecut(folder, arguments).out; }
};

TEST(RoundStockFormats, a_rapid_in_the_corner_stops_only_in_square_stock) {
  EXPECT_THAT(Disc("").out({"check", "job.toml"}), HasSubstr("[rapid-in-stock]"));
  EXPECT_THAT(Disc().out({"check", "job.toml"}), Not(HasSubstr("[rapid-in-stock]")));
}

TEST(RoundStockFormats, tape_and_vacuum_lie_under_the_disc_alone) {
  const Json report = Json::parse(Disc().out({"check", "job.toml", "--format", "json"}));
  EXPECT_TRUE(report["not_checked"].empty()) << report["not_checked"];
  EXPECT_EQ(report["parts"].size(), 1U);
  EXPECT_EQ(report["parts"][0]["held_by"], Json::array({"vacuum"}));
  // The kerf is 6 mm wide, 20 to 26 mm from the middle.
  EXPECT_NEAR(report["stock"]["removed_mm3"].get<double>(),
              3.14159265 * (26 * 26 - 20 * 20) * 12 + (6 * 20 + 9 * 3.14159265) * 3, 0.005 * 11'000);
}

TEST(RoundStockFormats, sheet_pictures_and_parts_draw_a_disc) {
  const Disc d;
  const std::string sheet = d.out({"sheet", "job.toml"});
  EXPECT_THAT(sheet, HasSubstr("120 mm round, 12 mm thick"));
  EXPECT_THAT(sheet, HasSubstr("<circle"));
  const Json parts = Json::parse(d.out({"export", "job.toml", "--parts"}));
  EXPECT_EQ(parts["stock"]["shape"], "round");
  EXPECT_FALSE(Json::parse(Disc("").out({"export", "job.toml", "--parts"}))["stock"].contains("shape"));
  runProvecut(d.folder, {"export", "job.toml", "--parts", "-o", "parts.json"});
  EXPECT_THAT(d.folder.read("parts.svg"), HasSubstr("<circle id=\"stock\" cx=\"60\" cy=\"60\" r=\"60\""));
}

}  // namespace round_stock_formats_test
}  // namespace provecut
