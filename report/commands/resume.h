// `provecut resume`: where a stopped program can be resumed.
#pragma once

#include "report/command_line/options.h"

namespace provecut {

int runResume(const Options& options);

}  // namespace provecut
