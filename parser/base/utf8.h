// Bytes to code points: the one decoder of the program.
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

namespace provecut {

// What stands at a byte of a text: a code point, or one byte that begins none.
struct Symbol {
  char32_t code = 0;  // the byte itself where `is_utf8` is false
  std::size_t bytes = 1;
  bool is_utf8 = false;
};

// The symbol that begins at text[i]. Overlong forms, surrogates and what lies beyond U+10FFFF are not UTF-8
// (Unicode 15, table 3-7).
Symbol symbolAt(std::string_view text, std::size_t i);

std::optional<std::size_t> firstByteThatIsNotUtf8(std::string_view text);

// U+0000 to U+001F, U+007F to U+009F: what may move a cursor.
bool isControl(char32_t code);

// Controls, format characters, separators of lines and what is not assigned: they show nothing, or change the order of
// what is around them (Unicode categories Cc, Cf, Zl, Zp, Cn, and Default_Ignorable_Code_Point).
bool isInvisible(char32_t code);

// Terminal cells that a code point takes: 0 for combining marks and what shows nothing, 2 for wide East Asian ones and
// emoji, else 1.
std::size_t displayWidth(char32_t code);

}  // namespace provecut
