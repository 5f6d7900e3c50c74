// Text from files, safe to show: nothing in a program can move the cursor, hide a word or turn its order round.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "parser/base/place.h"

namespace provecut {

// UTF-8 that a terminal shows as it is written: a control byte or a byte that is not UTF-8 becomes \x1B, an
// invisible or direction-changing code point becomes \u{202E}, a tab becomes a space. Applying it twice changes nothing
// more.
std::string visibleText(std::string_view bytes);

// Terminal cells that text from visibleText() takes (wide code points take two, combining ones none).
std::size_t displayWidth(std::string_view visible);

// A line cut to what fits in a terminal, with the cells to mark (first, one past the last; both 0: none).
struct Excerpt {
  std::string text;
  std::uint32_t mark_begin = 0, mark_end = 0;
};

// At most `width` cells are shown, around the marked words; "..." stands where the
// line goes on.
Excerpt excerptOf(std::string_view line, const ShownPlace& place, std::size_t width);

}  // namespace provecut
