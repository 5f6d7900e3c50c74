#include "parser/place.h"

#include <algorithm>

namespace provecut {

namespace {

// Bytes of the UTF-8 sequence at text[i]; 1 where it is not one.
std::size_t sequenceLength(std::string_view text, std::size_t i) {
  const auto byte = [&](std::size_t k) { return static_cast<unsigned char>(text[k]); };
  const unsigned char lead = byte(i);
  const std::size_t n = lead >= 0xF0 && lead < 0xF5 ? 4 : lead >= 0xE0 ? 3 : lead >= 0xC2 ? 2 : 1;
  if (lead >= 0xF5 || n == 1 || i + n > text.size()) return 1;
  for (std::size_t k = 1; k < n; ++k) {
    if ((byte(i + k) & 0xC0) != 0x80) return 1;
  }
  return n;
}

}  // namespace

std::uint32_t codePointColumn(std::string_view line, std::uint32_t byte_column) {
  if (byte_column == 0) return 0;
  const std::size_t stop = std::min<std::size_t>(byte_column - 1, line.size());
  std::uint32_t column = 1;
  for (std::size_t i = 0; i < stop; i += sequenceLength(line, i)) ++column;
  return column + static_cast<std::uint32_t>(byte_column - 1 - stop);
}

Place shownColumns(std::string_view line, Place bytes) {
  return {bytes.line, codePointColumn(line, bytes.column), codePointColumn(line, bytes.end_column)};
}

}  // namespace provecut
