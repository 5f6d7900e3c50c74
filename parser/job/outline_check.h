// Does an outline in a setup enclose an area without crossing or touching itself?
#pragma once

#include <optional>
#include <span>
#include <utility>

#include "parser/base/geometry.h"

namespace provecut {

// Indices of two edges (i from point i to the next) that cross, touch or fold back on each other; a closed
// outline whose last point is not the first again. Edges that only share their common corner do not count.
std::optional<std::pair<std::size_t, std::size_t>> crossingEdges(std::span<const SetupPoint2> outline);

// Positive when counter-clockwise.
double signedArea(std::span<const SetupPoint2> outline);

}  // namespace provecut
