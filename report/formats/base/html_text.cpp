#include "report/formats/base/html_text.h"

#include <cmath>

#include "report/base/visible_text.h"
#include "report/base/wording.h"

namespace provecut {

std::string escapeHtml(std::string_view text) {
  std::string out;
  for (const char c : visibleText(text)) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

std::string shortNumber(double value, int decimals) {
  if (!std::isfinite(value)) return "?";
  std::string text = fixedText(value, decimals);
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

}  // namespace provecut
