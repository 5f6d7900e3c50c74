// `provecut place`: where hold-downs can go.
#pragma once

#include "report/command_line/options.h"

namespace provecut {

// Returns the exit status: exit_found where a fitted hold-down is hit, a rule finds a reason to stop, or a program
// could not be read completely.
int runPlace(const Options& options);

}  // namespace provecut
