#include "parser/base/place.h"

#include <algorithm>

#include "parser/base/utf8.h"

namespace provecut {

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
