// The clean job. Expected values: geometry of what generate.py was told to cut.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/samples/sample_run.h"

namespace provecut::samples {

namespace {

const nlohmann::json& report() {
  static const Check clean = check("cribbage-board");
  return clean.report;
}

// The entry of `list` whose `key` has this value.
nlohmann::json entry(const char* list, const char* key, const std::string& value) {
  for (const auto& item : report()[list]) {
    if (item[key] == value) return item;
  }
  return nullptr;
}

double removed(const std::string& program) {
  return entry("programs", "file", program).value("removed_mm3", 0.0);
}

// Volume of a drilled hole with its point; `depth` to the tip.
double drilled(double radius, double point_angle_deg, double depth) {
  const double point = radius / std::tan(point_angle_deg / 2 * std::numbers::pi / 180);
  return std::numbers::pi * radius * radius * (depth - point + point / 3);
}

// A rectangle with round corners.
double roundedArea(double x, double y, double corner) {
  return x * y - (4 - std::numbers::pi) * corner * corner;
}

}  // namespace

TEST(CribbageBoard, comes_out_clear) {
  const Check clean = check("cribbage-board");
  ASSERT_TRUE(clean.report.is_object());
  EXPECT_EQ(clean.status, 0);
  EXPECT_EQ(clean.report["verdict"], "clear");
  EXPECT_EQ(clean.report["complete"], true);
  EXPECT_EQ(clean.report["findings"], nlohmann::json::array());
  EXPECT_EQ(clean.report["hits"], nlohmann::json::array());
  EXPECT_EQ(clean.report["programs"].size(), 9U);
}

TEST(CribbageBoard, removes_what_was_drawn) {
  ASSERT_TRUE(report().is_object());
  EXPECT_NEAR(removed("20-tray.nc") / (roundedArea(90, 34, 5) * 5), 1, 0.005);
  EXPECT_NEAR(removed("30-peg-holes.nc") / (245 * drilled(3.175 / 2, 118, 0.31 * 25.4)), 1, 0.01);
  EXPECT_NEAR(removed("60-compartment.nc") / (roundedArea(168, 62, 6) * 3.2 + roundedArea(152, 54, 6) * 5.8), 1, 0.005);
  EXPECT_NEAR(removed("80-disc.nc") / (std::numbers::pi * (28 * 28 - 22 * 22) * 19.05), 1, 0.02);  // less its two tabs
}

TEST(CribbageBoard, leaves_the_disc_on_two_tabs) {
  const auto disc = entry("parts", "program", "80-disc.nc");
  ASSERT_TRUE(disc.is_object());
  EXPECT_EQ(disc["free"], false);
  EXPECT_EQ(disc["held_by"], nlohmann::json({"tabs"}));
  ASSERT_EQ(disc["tabs"].size(), 2U);
  for (const auto& tab : disc["tabs"]) {
    const double chord = 2 * 25 * std::sin(16.0 / 50) - 6;
    EXPECT_NEAR(tab["length_mm"], chord, 0.25);  // one cell
    EXPECT_NEAR(tab["thickness_mm"], 3, 0.01);
  }
}

TEST(CribbageBoard, leaves_the_board_on_four_tabs_across_the_grain) {
  const auto board = entry("parts", "program", "90-outline.nc");
  ASSERT_TRUE(board.is_object());
  EXPECT_EQ(board["free"], false);
  EXPECT_EQ(board["held_by"], nlohmann::json({"tabs"}));
  ASSERT_EQ(board["tabs"].size(), 4U);
  for (const auto& tab : board["tabs"]) {
    EXPECT_NEAR(tab["length_mm"], 16 - 6, 0.25);
    EXPECT_NEAR(tab["thickness_mm"], 3, 0.01);
    const double x = tab["at"][0], y = tab["at"][1];
    EXPECT_NEAR(std::abs(x - 270), 180 + 3, 1);
    EXPECT_NEAR(std::abs(y - 65), 20, 1);
  }
  EXPECT_EQ(report()["parts"].size(), 2U);
}

}  // namespace provecut::samples
