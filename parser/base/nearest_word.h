// The known word that a misspelt one most resembles.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace provecut {

// Letters to insert, leave out, replace or swap with their neighbour to make one into the other, upper and
// lower case alike.
std::size_t editDistance(std::string_view a, std::string_view b);

// The first of those at the least distance; empty when there is no candidate.
std::string nearestWord(std::string_view word, std::span<const std::string> candidates);

}  // namespace provecut
