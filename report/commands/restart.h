// provecut restart: where a stopped program may be taken up again.
#pragma once

#include "report/commands/options.h"

namespace provecut {

int runRestart(const Options& options);

}  // namespace provecut
