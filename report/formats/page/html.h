// The report as one page that opens from a file, with everything in it: no network, scripts and styles known by their
// hash.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <cstddef>
#include <iosfwd>

#include "report/findings/report.h"
#include "sim/replay.h"

namespace provecut {

// Cells of the height maps that the page is given.
inline constexpr std::size_t page_cells = 600'000;

// Whether this build has the page in it (PROVECUT_BUILD_PAGE).
bool pageIsBuiltIn();

// `replay` was filled by the run that `report` is about. Only where pageIsBuiltIn().
void writeHtml(const Report& report, const Replay& replay, std::ostream& out);

}  // namespace provecut
