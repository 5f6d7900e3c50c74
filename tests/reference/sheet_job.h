// The sheets of tests/reference as jobs and programs.
#pragma once

#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "tests/reference/parting/sheet.h"

namespace provecut::testing {

// One setup for each face, its work zero on top of the lower left corner. cell_mm 0: chosen.
Job jobOf(const reference::Sheet& sheet, double cell_mm);
// In the order of the sheet; the line of a motion is its number from 1.
std::vector<Program> programsOf(const reference::Sheet& sheet);

}  // namespace provecut::testing
