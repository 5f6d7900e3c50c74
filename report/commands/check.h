// `provecut check`: the main job.
#pragma once

#include "report/command_line/options.h"

namespace provecut {

// Returns the exit status.
int runCheck(const Options& options);

}  // namespace provecut
