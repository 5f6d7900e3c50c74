// Where something stands in a text file. Lines and columns count from 1; 0 means "not known" or "the whole file".
#pragma once

#include <cstdint>
#include <string_view>

namespace provecut {

// As it is read: columns are bytes from the line's start.
struct Place {
  std::uint32_t line = 0;
  std::uint32_t column = 0;
  std::uint32_t end_column = 0;  // one past the last
  friend bool operator==(const Place&, const Place&) = default;
};

// As it is told: columns are code points, as editors count them. A byte that is not UTF-8 is one column.
struct ShownPlace {
  std::uint32_t line = 0;
  std::uint32_t column = 0;
  std::uint32_t end_column = 0;
  friend bool operator==(const ShownPlace&, const ShownPlace&) = default;
};

// The only way from one to the other. `line` is the text of the place's own line.
ShownPlace shownPlace(std::string_view line, Place place);

}  // namespace provecut
