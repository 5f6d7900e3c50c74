// `provecut place`: where hold-downs may stand.
#pragma once

#include "report/command_line/options.h"

namespace provecut {

// 0: what stands is clear. 1: something that stands is hit, a rule that stops a job found something, or a program could
// not be read whole.
int runPlace(const Options& options);

}  // namespace provecut
