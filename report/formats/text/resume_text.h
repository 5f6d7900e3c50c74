// The resume lines of a job's programs, for a terminal.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <cstdint>
#include <iosfwd>
#include <optional>

#include "report/facts/facts.h"

namespace provecut {

// Start points are in the program's own unit, since they are typed in with its G20 or G21 in force. With `before` only
// the last resume line at or before that line of each program.
void writeResumeText(const Facts& facts, std::optional<std::uint32_t> before, bool colour, std::ostream& out);

}  // namespace provecut
