// A move's path in straight pieces for the cut.
#pragma once

#include <vector>

#include "parser/job.h"
#include "parser/motion.h"
#include "sim/cut_kernel.h"

namespace provecut {

// Appends the straight sweeps of one motion (work coordinates) in the lying frame of `setup`. Arcs become chords that
// stay within `chord_error_mm` of the arc; rapids of machines with independent axes become their two or three legs.
void appendSweeps(const Motion& motion, std::uint32_t index, const Setup& setup, const Machine& machine,
                  double chord_error_mm, std::vector<Sweep>& sweeps);

}  // namespace provecut
