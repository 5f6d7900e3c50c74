// What to do at the machine in one setup, in order: hold-downs to move, tools to put in, programs to run.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "report/facts/facts.h"

namespace provecut {

// One tool's stretch of a program.
struct ToolStretch {
  int tool = 0;                      // 0: not known
  std::uint32_t line = 0;            // of its first move
  bool change_before = false;        // it is not in the spindle yet: put it in, and set Z again
  double rpm_low = 0, rpm_high = 0;  // of the feed moves; 0: none
  double feed_low_mm_min = 0, feed_high_mm_min = 0;
};

struct SetupStep {
  std::size_t program = 0;       // index into Facts::programs
  std::vector<int> fit, remove;  // indices into Job::hold_downs, before this program
  std::vector<ToolStretch> tools;
};

// `setup` is an index into Job::setups. All hold-downs of the first program are fitted.
std::vector<SetupStep> setupSteps(const Facts& facts, std::size_t setup);

}  // namespace provecut
