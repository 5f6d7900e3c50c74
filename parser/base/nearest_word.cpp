#include "parser/base/nearest_word.h"

#include <algorithm>
#include <array>
#include <vector>

namespace provecut {

namespace {

char lower(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

}  // namespace

std::size_t editDistance(std::string_view a, std::string_view b) {
  // Nobody misspells a long word: what is beyond cannot make it the nearest.
  constexpr std::size_t longest = 128;
  a = a.substr(0, longest);
  b = b.substr(0, longest);
  // Three rows of the table of distances between beginnings of a and of b.
  std::array<std::vector<std::size_t>, 3> rows;
  for (auto& row : rows) row.resize(b.size() + 1);
  auto& [before, above, row] = rows;
  for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    before.swap(above);
    above.swap(row);
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const bool same = lower(a[i - 1]) == lower(b[j - 1]);
      row[j] = std::min({above[j] + 1, row[j - 1] + 1, above[j - 1] + (same ? 0 : 1)});
      const bool swapped = i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) && lower(a[i - 2]) == lower(b[j - 1]);
      if (swapped) row[j] = std::min(row[j], before[j - 2] + 1);
    }
  }
  return row[b.size()];
}

std::string nearestWord(std::string_view word, std::span<const std::string> candidates) {
  std::string nearest;
  // Words of one or two letters are all alike: "cm" may be "mm" or "in".
  std::size_t too_far = word.size() <= 2 ? 1 : std::max<std::size_t>(1, word.size() / 3) + 1;
  for (const std::string& candidate : candidates) {
    const std::size_t distance = editDistance(word, candidate);
    if (distance >= too_far) continue;
    nearest = candidate;
    too_far = distance;
  }
  return nearest;
}

}  // namespace provecut
