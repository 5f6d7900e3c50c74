// `provecut time`: how long each program takes, where the time goes, and what the measured times say of the machine.
#pragma once

#include "report/command_line/options.h"

namespace provecut {

int runTime(const Options& options);

}  // namespace provecut
