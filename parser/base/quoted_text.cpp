#include "parser/base/quoted_text.h"

#include "parser/base/utf8.h"

namespace provecut {

namespace {

bool isSpace(char c) {
  return c == ' ' || c == '\t';
}

std::string hexOf(unsigned char byte) {
  constexpr std::string_view digits = "0123456789ABCDEF";
  return {'\\', 'x', digits[byte >> 4], digits[byte & 15]};
}

}  // namespace

std::string shownText(std::string_view text, std::size_t longest) {
  while (!text.empty() && isSpace(text.front())) text.remove_prefix(1);
  while (!text.empty() && isSpace(text.back())) text.remove_suffix(1);
  std::string shown;
  for (std::size_t i = 0; i < text.size();) {
    if (i >= longest) return shown + "…";
    const Symbol s = symbolAt(text, i);
    const std::string_view bytes = text.substr(i, s.bytes);
    if (s.is_utf8 && !isControl(s.code)) {
      shown += bytes;
    } else {
      for (const char byte : bytes) shown += hexOf(static_cast<unsigned char>(byte));
    }
    i += s.bytes;
  }
  return shown;
}

}  // namespace provecut
