// A comment cut into words and numbers, as people and generators write them: "6mm", "6,35", "5/16\"", "1 1/2 in".
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace provecut {

// Lower case, without accents; a degree sign reads "deg", a diameter sign "dia", an underscore is a blank.
std::string plainComment(std::string_view text);

struct CommentToken {
  enum class Kind { word, number, sign };
  Kind kind = Kind::sign;
  std::string_view text;          // of the plain comment
  std::size_t at = 0;             // where it begins there
  bool glued = false;             // no blank before it
  double value = 0;               // of a number
  std::optional<double> unit_mm;  // millimetres to one, where a unit is written
  bool fraction = false;          // "5/16": of an inch, when no unit is written
};

// `plain` must outlive the tokens.
std::vector<CommentToken> commentTokens(std::string_view plain);

}  // namespace provecut
