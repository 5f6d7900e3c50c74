#include "parser/base/utf8.h"

#include <utf8proc.h>

#include <algorithm>

namespace provecut {

Symbol symbolAt(std::string_view text, std::size_t i) {
  constexpr std::size_t longest = 4;
  const auto* const at = reinterpret_cast<const utf8proc_uint8_t*>(text.data() + i);
  const std::size_t left = std::min(text.size() - i, longest);
  utf8proc_int32_t code = 0;
  const utf8proc_ssize_t bytes = utf8proc_iterate(at, static_cast<utf8proc_ssize_t>(left), &code);
  if (bytes <= 0) return {*at, 1, false};
  return {static_cast<char32_t>(code), static_cast<std::size_t>(bytes), true};
}

std::optional<std::size_t> firstByteThatIsNotUtf8(std::string_view text) {
  for (std::size_t i = 0; i < text.size();) {
    const Symbol s = symbolAt(text, i);
    if (!s.is_utf8) return i;
    i += s.bytes;
  }
  return std::nullopt;
}

bool isControl(char32_t code) {
  return code < 0x20 || (code >= 0x7F && code < 0xA0);
}

bool isInvisible(char32_t code) {
  const utf8proc_property_t& property = *utf8proc_get_property(static_cast<utf8proc_int32_t>(code));
  switch (property.category) {
    case UTF8PROC_CATEGORY_CC:
    case UTF8PROC_CATEGORY_CF:
    case UTF8PROC_CATEGORY_ZL:
    case UTF8PROC_CATEGORY_ZP:
    case UTF8PROC_CATEGORY_CN:
      return true;
    default:
      return property.ignorable;
  }
}

std::size_t displayWidth(char32_t code) {
  return static_cast<std::size_t>(std::max(0, utf8proc_charwidth(static_cast<utf8proc_int32_t>(code))));
}

}  // namespace provecut
