// provecut resume: where a stopped program may be taken up again.
#pragma once

#include "report/command_line/options.h"

namespace provecut {

int runResume(const Options& options);

}  // namespace provecut
