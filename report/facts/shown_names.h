// Names of a job's things as they are shown: their control characters made visible.
#pragma once

#include <string>

#include "report/facts/facts.h"

namespace provecut {

std::string shownHoldDown(const Job& job, int hold_down);
std::string shownSetup(const Job& job, int setup);
std::string shownFile(const Facts& facts, int program);

}  // namespace provecut
