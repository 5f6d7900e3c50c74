// `provecut completions SHELL` and `provecut manual`: what the command line takes, for shells and for man.
#pragma once

#include "report/command_line/options.h"

namespace provecut {

// Both return the exit status.
int runCompletions(const Options& options);
int runManual(const Options& options);

}  // namespace provecut
