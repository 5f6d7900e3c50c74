// `provecut lock`: checks a job and keeps which exports of its programs were checked.
#pragma once

#include "report/command_line/options.h"

namespace provecut {

// Writes the lock file beside the job file. One that says otherwise is only replaced with --update; what differs is
// told.
int runLock(const Options& options);

}  // namespace provecut
