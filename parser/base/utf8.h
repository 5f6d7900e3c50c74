// Where code points begin and end in bytes.
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

namespace provecut {

// Bytes of the well-formed UTF-8 sequence at text[i] (Unicode 15, table 3-7); 0 where there is none.
std::size_t wellFormedLength(std::string_view text, std::size_t i);

// The same, but a byte that is not UTF-8 counts as one column.
inline std::size_t sequenceLength(std::string_view text, std::size_t i) {
  const std::size_t n = wellFormedLength(text, i);
  return n == 0 ? 1 : n;
}

std::optional<std::size_t> firstByteThatIsNotUtf8(std::string_view text);

}  // namespace provecut
