// The pieces of a job as JSON, in order of time: with the tree of what came off what.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>
#include <nlohmann/json_fwd.hpp>

#include "report/facts/facts.h"

namespace provecut {

// The array "parts" of the report (report/schemas/report-1.schema.json). A piece names others by their place in it.
nlohmann::ordered_json partsJson(const Facts& facts);

// A document of its own (report/schemas/parts-1.schema.json): the same, each with its outline in the stock frame, mm.
// The run must have been asked for outlines.
void writePartsJson(const Facts& facts, std::ostream& out);

}  // namespace provecut
