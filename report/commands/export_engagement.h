// `provecut export --engagement`: how each move meets the material, as CSV.
#pragma once

#include "report/command_line/options.h"

namespace provecut {

// Returns the exit status.
int runExportEngagement(const Options& options);

}  // namespace provecut
