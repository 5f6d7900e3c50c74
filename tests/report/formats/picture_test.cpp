// Pictures: colours that are even to the eye, moves of each depth drawn, the spot where the finding is.
#include "report/formats/drawing/picture.h"

#include <gmock/gmock.h>

#include <cmath>

#include "report/facts/load.h"
#include "report/findings/report.h"
#include "report/formats/base/depth_scale.h"
#include "tests/report/running.h"

namespace provecut {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;
using testing::smallJob;
using testing::TempFolder;

// CIE L* of an sRGB colour: IEC 61966-2-1 decoding, then ISO/CIE 11664-4 with Y of white 1.
double lightness(const std::string& hex) {
  const auto linear = [&](std::size_t at) {
    const double c = std::stoi(hex.substr(at, 2), nullptr, 16) / 255.0;
    return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
  };
  const double y = 0.2126 * linear(1) + 0.7152 * linear(3) + 0.0722 * linear(5);
  return y > 216.0 / 24389 ? 116 * std::cbrt(y) - 16 : y * 24389.0 / 27;
}

TEST(DepthScale, gets_darker_in_even_steps) {
  double before = lightness(depthColour(0));
  EXPECT_NEAR(before, 72, 0.7);
  for (int step = 1; step <= 10; ++step) {
    const double now = lightness(depthColour(step / 10.0));
    EXPECT_NEAR(before - now, 5, 0.5) << step;
    before = now;
  }
}

TEST(DepthScale, takes_any_number) {
  EXPECT_EQ(depthColour(-1), depthColour(0));
  EXPECT_EQ(depthColour(7), depthColour(1));
  EXPECT_EQ(depthColour(NAN), depthColour(0));
}

struct Drawn {
  TempFolder folder;
  std::unique_ptr<Facts> facts;
  explicit Drawn(std::string_view program) {
    folder.write("a.nc", program);
    folder.write("job.toml", smallJob({"a.nc"}));
    facts = std::move(loadJobFile((folder.path() / "job.toml").string(), {}).facts);
  }
};

constexpr std::string_view two_depths =
    "G21 G90 G17 G94\nT1 M6\nS12000 M3\nG4 P5\nG0 X50 Y40 Z10\nG1 Z-2 F300\nG1 X70\nG1 Z-5\nG1 X50\nG0 Z10\nG0 X30 "
    "Y10\nG1 Z-2\nG1 X12\nG0 Z10\nM30\n";

TEST(Picture, of_a_program_shows_each_depth_in_its_colour_and_says_which) {
  const Drawn d(two_depths);
  const std::string svg = programPicture(*d.facts, 0);
  EXPECT_THAT(svg, HasSubstr("stroke=\"" + depthColour(0.4) + "\""));  // 2 of 5 mm
  EXPECT_THAT(svg, HasSubstr("stroke=\"" + depthColour(1) + "\""));
  EXPECT_THAT(svg, HasSubstr(">2</text>"));
  EXPECT_THAT(svg, HasSubstr(">5</text>"));
  EXPECT_THAT(svg, HasSubstr("stroke-dasharray"));
  EXPECT_THAT(svg, HasSubstr(">SW</text>"));
}

TEST(Picture, of_a_finding_marks_its_spot_in_the_middle) {
  const Drawn d(two_depths);
  const Report report = makeReport(*d.facts);
  for (const Finding& f : report.findings) {
    if (f.rule != "hold-down-hit") continue;
    const std::string svg = findingPicture(*d.facts, f);
    // The window is 8 from the left and 480 - 112 - 24 wide, 320 - 16 - 22 high: its middle is 180, 149.
    EXPECT_THAT(svg, HasSubstr("<circle cx=\"180\" cy=\"149\" r=\"8\""));
    EXPECT_THAT(svg, HasSubstr("<desc>"));
    return;
  }
  FAIL() << "no hit found";
}

TEST(Picture, of_a_finding_without_a_spot_is_none) {
  const Drawn d(two_depths);
  Finding f;
  f.program_order = 0;
  EXPECT_THAT(findingPicture(*d.facts, f), IsEmpty());
  f.program_order = -1;
  f.at = WorkPoint{1, 2, 3};
  EXPECT_THAT(findingPicture(*d.facts, f), IsEmpty());
}

TEST(Picture, of_many_moves_stays_small) {
  std::string program = "G21 G90 G17 G94\nT1 M6\nS12000 M3\nG4 P5\nG0 X50 Y40 Z10\nG1 Z-2 F900\n";
  for (int i = 0; i < 120'000; ++i) {
    program +=
        "X" + std::to_string(20 + i % 61) + "." + std::to_string(i % 10) + " Y" + std::to_string(30 + i % 37) + "\n";
  }
  const Drawn d(program + "G0 Z10\nM30\n");
  EXPECT_LT(programPicture(*d.facts, 0).size(), 2'000'000u);
}

}  // namespace
}  // namespace provecut
