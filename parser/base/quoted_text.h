// A program's own text as messages show it.
#pragma once

#include <string>
#include <string_view>

namespace provecut {

// `text` with control characters and bytes that are not UTF-8 made visible ("\x1B"), spaces at its ends left out, cut
// after about `longest` bytes.
std::string shownText(std::string_view text, std::size_t longest = 40);

}  // namespace provecut
