#include "parser/base/quoted_text.h"

#include <charconv>
#include <cmath>

#include "parser/base/utf8.h"

namespace provecut {

std::string shownText(std::string_view text, std::size_t longest) {
  constexpr std::string_view hex = "0123456789ABCDEF";
  const auto stock = [](char c) { return c == ' ' || c == '\t'; };
  while (!text.empty() && stock(text.front())) text.remove_prefix(1);
  while (!text.empty() && stock(text.back())) text.remove_suffix(1);
  std::string shown;
  for (std::size_t i = 0; i < text.size();) {
    if (i >= longest) {
      shown += "…";
      break;
    }
    const unsigned char c = static_cast<unsigned char>(text[i]);
    const std::size_t n = wellFormedLength(text, i);
    // U+0080 to U+009F are controls too.
    const bool high_control = n == 2 && c == 0xC2 && static_cast<unsigned char>(text[i + 1]) < 0xA0;
    if (n == 0 || c < 32 || c == 127 || high_control) {
      shown += "\\x";
      shown += hex[c >> 4];
      shown += hex[c & 15];
      ++i;
    } else {
      shown += text.substr(i, n);
      i += n;
    }
  }
  return shown;
}

std::string shownNumber(double value, int decimals) {
  if (!(std::abs(value) < 1e15)) return "a huge number";
  char buffer[64];
  const auto [end, error] = std::to_chars(buffer, buffer + sizeof buffer, value, std::chars_format::fixed, decimals);
  std::string shown(buffer, end);
  if (shown.find('.') != std::string::npos) {
    shown.erase(shown.find_last_not_of('0') + 1);
    if (shown.back() == '.') shown.pop_back();
  }
  return shown == "-0" ? "0" : shown;
}

}  // namespace provecut
