// `provecut export`: what was computed, for other programs.
#pragma once

#include "report/command_line/options.h"

namespace provecut {

// Returns the exit status.
int runExport(const Options& options);

}  // namespace provecut
