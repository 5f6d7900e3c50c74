// What each tool of a program has to bear, in few numbers.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "report/facts.h"

namespace provecut {

struct ToolLoad {
  int tool = 0;
  double cutting_s = 0;                 // time in the cut
  double chip_load_mean_mm = 0;         // way per tooth, mean over that time
  double chip_most_mm = 0;
  std::uint32_t chip_most_line = 0;
  double width_most_mm = 0;
  double removal_most_mm3_min = 0, removal_mean_mm3_min = 0;
  double power_most_w = 0, force_most_n = 0, deflection_most_mm = 0;  // 0: not known
};

// The tools of program `i` that cut anything, in the order in which they first do.
std::vector<ToolLoad> toolLoads(const Facts& facts, std::size_t i);

}  // namespace provecut
