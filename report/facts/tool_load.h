// What each tool of a program has to bear, in few numbers.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "report/facts/facts.h"

namespace provecut {

// Share of the motor's power that reaches the cutter: 0.7 to 0.85; from memory.
inline constexpr double motor_efficiency = 0.8;

struct ToolLoad {
  int tool = 0;
  double cutting_s = 0;          // time in the cut
  double mean_chip_load_mm = 0;  // way per tooth, mean over that time
  double max_chip_thickness_mm = 0;
  std::uint32_t max_chip_line = 0;
  double max_radial_depth_mm = 0;
  double max_removal_mm3_min = 0, mean_removal_mm3_min = 0;
  double max_power_w = 0, max_force_n = 0, max_deflection_mm = 0;  // 0: not known
};

// The tools of program `i` that cut anything, in the order in which they first do.
std::vector<ToolLoad> toolLoads(const Facts& facts, std::size_t i);

}  // namespace provecut
