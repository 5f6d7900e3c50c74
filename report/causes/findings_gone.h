// Which findings are gone under another description.
#pragma once

#include <cstddef>
#include <vector>

#include "report/findings/report.h"

namespace provecut::causes {

// Indices into the findings of `before`. One that may have stayed, on another line or at another level, is none of
// them; nor is an accepted one.
std::vector<std::size_t> findingsGone(const Report& before, const Report& after);

}  // namespace provecut::causes
