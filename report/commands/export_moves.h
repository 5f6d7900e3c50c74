// `provecut export --moves`: what the program reader made of a program, as CSV.
#pragma once

#include "report/command_line/options.h"

namespace provecut {

// Returns the exit status.
int runExportMoves(const Options& options);

}  // namespace provecut
