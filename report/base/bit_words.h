// Words for bits, as people and generators write them in comments.
#pragma once

#include <string_view>

#include "parser/job/job.h"

namespace provecut {

struct ShapeWord {
  std::string_view word;
  ToolShape shape;
  bool job = false;  // may as well be what the bit is for
};

// Where `word` stands in a plain comment, by itself or as the beginning of another one; npos: nowhere.
std::size_t findWord(std::string_view text, std::string_view word);

// The first in the table that stands in the text counts: "ball end mill" is a ball. Nothing: null.
const ShapeWord* shapeWordIn(std::string_view text);

// The kind of the first shape's word, where no word in the text names a bit of another kind.
bool namesOneKind(std::string_view text, const ShapeWord& first);

// Are these bits that nobody takes for one another by another name? A bull nose and a surfacing bit count as flat.
bool sameKind(ToolShape a, ToolShape b);

}  // namespace provecut
