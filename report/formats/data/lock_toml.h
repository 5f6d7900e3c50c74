// The lock file as it is written beside the job file.
#pragma once

#include <iosfwd>
#include <string_view>

#include "parser/job/lock.h"

namespace provecut {

// `job_file` is its name, for what the file says of itself.
void writeLock(const Lock& lock, std::string_view job_file, std::ostream& out);

}  // namespace provecut
