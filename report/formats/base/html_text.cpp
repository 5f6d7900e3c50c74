#include "report/formats/base/html_text.h"

#include "report/base/visible_text.h"

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

}  // namespace provecut
