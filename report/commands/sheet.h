// `provecut sheet`: the page to print and take to the machine.
#pragma once

#include "report/command_line/options.h"

namespace provecut {

// Returns the exit status.
int runSheet(const Options& options);

}  // namespace provecut
