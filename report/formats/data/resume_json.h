// The resume lines of a job's programs as JSON.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <cstdint>
#include <iosfwd>
#include <optional>

#include "report/facts/facts.h"

namespace provecut {

// Places in mm from the job's work zero; Z is null where it is the top of the travel. With `before` only the last
// resume line at or before that line of each program, and why it is not that line itself.
void writeResumeJson(const Facts& facts, std::optional<std::uint32_t> before, std::ostream& out);

}  // namespace provecut
