// Where something stands in a text file. Lines and columns count from 1; 0 means "not known" or "the whole file".
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace provecut {

// Columns are bytes from the line's start while reading, and code points once shown: see shownColumns().
struct Place {
  std::uint32_t line = 0;
  std::uint32_t column = 0;
  std::uint32_t end_column = 0;  // one past the last
  friend bool operator==(const Place&, const Place&) = default;
};

// Code-point column of the byte at `byte_column` (1-based) in `line`. A byte that is not UTF-8 counts as one column.
std::uint32_t codePointColumn(std::string_view line, std::uint32_t byte_column);

// The same place with columns in code points, for the line's own text.
Place shownColumns(std::string_view line, Place bytes);

}  // namespace provecut
