// Several jobs checked in one run, each as it would be alone, then their sum: for a terminal.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>
#include <span>

#include "report/findings/report.h"
#include "report/formats/text/text.h"

namespace provecut {

// At most 100 columns.
void writeBatchText(std::span<const Report> reports, const TextStyle& style, std::ostream& out);

}  // namespace provecut
