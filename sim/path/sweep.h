// A move's path in straight pieces for the cut.
#pragma once

#include <cstdint>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"

namespace provecut {

// One straight piece of a tool's path; plan positions in mm of the setup frame, heights above the stock's underside.
struct Sweep {
  double ax = 0, ay = 0, bx = 0, by = 0;
  float a_tip = 0, b_tip = 0;
  std::uint32_t motion = 0;
};

// Appends the straight sweeps of one motion in `setup`. Arcs become chords that
// stay within `chord_error_mm` of the arc; rapids of machines with independent axes become their two or three legs.
void appendSweeps(const Motion& motion, std::uint32_t index, const Setup& setup, const Machine& machine,
                  double chord_error_mm, std::vector<Sweep>& sweeps);

}  // namespace provecut
