// The restart lines of a job's programs, as text and as JSON.
#pragma once

#include <cstdint>
#include <iosfwd>
#include <optional>

#include "report/facts.h"

namespace provecut {

// With `before` only the last restart line at or before that line of each program.
void writeRestartText(const Facts& facts, std::optional<std::uint32_t> before, bool colour, std::ostream& out);
void writeRestartJson(const Facts& facts, std::optional<std::uint32_t> before, std::ostream& out);

}  // namespace provecut
