// `provecut explain`: a rule's page, or the list of all rules.
#pragma once

#include "report/command_line/options.h"

namespace provecut {

// Returns the exit status.
int runExplain(const Options& options);

}  // namespace provecut
