// The pieces of the job, as JSON for the page.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "report/facts/facts.h"
#include "sim/replay.h"

namespace provecut {

// One beside each part of the report: what became of it in a line, when it is cut out or left on tabs and whenever its
// hold changes, when it comes loose and is gone, and its outline in the stock frame, mm. Times in s from the program's
// start.
nlohmann::ordered_json pagePieces(const Facts& facts, const Replay& replay);

}  // namespace provecut
