// The known word that a misspelt one most resembles.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace provecut {

// Letters to insert, leave out, replace or swap with their neighbour to make one into the other, upper and
// lower case alike.
std::size_t editDistance(std::string_view a, std::string_view b);

// What a misspelt word may have meant: the first of the candidates at the least distance. That is at most a third of
// the word's length, and one letter in a short word; empty where nothing is as near.
std::string nearestWord(std::string_view word, std::span<const std::string> candidates);

}  // namespace provecut
