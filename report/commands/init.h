// `provecut init`: a first job file from programs.
#pragma once

#include "report/command_line/options.h"

namespace provecut {

// Writes to standard output, or to --output, which must not be there yet. Returns the exit status.
int runInit(const Options& options);

}  // namespace provecut
