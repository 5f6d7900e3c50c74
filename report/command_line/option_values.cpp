#include "report/command_line/option_values.h"

#include "report/base/visible_text.h"

namespace provecut {

std::string inQuotes(std::string_view text) {
  return "\"" + visibleText(text) + "\"";
}

std::string alternatives(const std::vector<std::string>& words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? " or " : ", ";
    text += words[i];
  }
  return text;
}

}  // namespace provecut
