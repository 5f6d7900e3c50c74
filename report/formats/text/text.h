// The report as text for a terminal: each finding with its line, then the job on one screen.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>

#include "report/findings/report.h"

namespace provecut {

struct TextStyle {
  bool colour = false;
  bool quiet = false;  // causes and findings only, one line each, without notes and summary
  bool verbose =
      false;  // every move that hits a hold-down, one line each; of other findings the lines of all their moves
};

// At most 100 columns.
void writeText(const Report& report, const TextStyle& style, std::ostream& out);

}  // namespace provecut
