#include "parser/base/place.h"

#include <algorithm>

#include "parser/base/utf8.h"

namespace provecut {

namespace {

std::uint32_t codePointColumn(std::string_view line, std::uint32_t byte_column) {
  if (byte_column == 0) return 0;
  const std::size_t stop = std::min<std::size_t>(byte_column - 1, line.size());
  std::uint32_t column = 1;
  for (std::size_t i = 0; i < stop; i += symbolAt(line, i).bytes) ++column;
  return column + static_cast<std::uint32_t>(byte_column - 1 - stop);
}

}  // namespace

ShownPlace shownPlace(std::string_view line, Place place) {
  return {place.line, codePointColumn(line, place.column), codePointColumn(line, place.end_column)};
}

}  // namespace provecut
