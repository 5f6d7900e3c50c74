// Text and numbers of a program as messages show them.
#pragma once

#include <string>
#include <string_view>

namespace provecut {

// `text` with control characters and bytes that are not UTF-8 made visible ("\x1B"), spaces at its ends left out, cut
// after about `longest` bytes.
std::string shownText(std::string_view text, std::size_t longest = 40);

// Fixed decimals, no trailing zeros, no negative zero: 12.5, 0.002, -3.
std::string shownNumber(double value, int decimals = 3);

}  // namespace provecut
