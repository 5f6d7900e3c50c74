// `provecut quote`: what to charge for a job, from its [quote] section and its planned time.
#pragma once

#include "report/command_line/options.h"

namespace provecut {

int runQuote(const Options& options);

}  // namespace provecut
