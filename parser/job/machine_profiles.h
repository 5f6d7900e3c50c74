// Built-in machines to start from: typical numbers of three classes of router.
#pragma once

#include <string>
#include <vector>

#include "parser/job/job.h"

namespace provecut {

// All of them, each under its name in Machine::profile. Common practice, no source: values within the ranges
// that owners of such machines report. A measured machine overrides them key by key.
const std::vector<Machine>& machineProfiles();

}  // namespace provecut
