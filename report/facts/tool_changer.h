// Does the machine change its bits itself?
#pragma once

#include "parser/job/job.h"

namespace provecut {

// By hand a change takes a minute at least (common practice, no source).
inline bool changesBitsItself(const Machine& machine) {
  return machine.tool_change_s < 60;
}

}  // namespace provecut
