// A random job with faults, as text, and what advice asks for done to it by the letter.
#pragma once

#include <cstdint>
#include <optional>
#include <random>
#include <string>
#include <vector>

#include "report/facts/finding.h"

namespace provecut::testing::advice {

// A line of a program: words in the order in which they are written.
struct Line {
  std::string code;  // "G0", "G1", "G81", "" for a hole of a cycle
  std::optional<double> x, y, z, r, f;
  std::string text;  // a line of its own kind: "G80", "T2 M6"; then all else is empty
  std::optional<double> q;
  std::uint32_t number = 0;  // in the program as it was found at fault
  bool names_sideways() const { return x || y; }
};

struct SceneTool {
  int number = 1;
  std::string shape = "flat";
  double diameter = 6, stickout = 30, flutes_mm = 20, shank = 6, max_stepdown = 0, plunge_feed = 0, max_rpm = 0;
  double chip_low = 0, chip_high = 0;
};

struct SceneHoldDown {
  std::string kind;
  double x = 0, y = 0, diameter = 0, size_x = 0, size_y = 0, top = 0;
  bool fitted = true;
};

struct AdviceJob {
  double thickness = 12, clearance = 3, allowed_cut = 0.3;
  double attachment_bottom = 0;  // below the nut's face; 0: none
  double spoilboard = 18, spindle_power_w = 0;
  std::optional<Vec3> zero_in_machine;
  double rpm_min = 6000, rpm_max = 24000, rate = 6000, rate_z = 3000;
  std::vector<SceneTool> tools;
  std::vector<SceneHoldDown> hold_downs;
  std::vector<Line> lines;
};

AdviceJob randomJob(unsigned seed);

std::string programText(const AdviceJob& job);
std::string jobText(const AdviceJob& job);

// The job after one way of a finding's advice.
AdviceJob followed(const AdviceJob& job, const Finding& finding, const std::vector<AdvisedChange>& way);

}  // namespace provecut::testing::advice
