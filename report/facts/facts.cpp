#include "report/facts/facts.h"

namespace provecut {

std::vector<std::size_t> lineStarts(std::string_view text) {
  std::vector<std::size_t> starts;
  if (!text.empty()) starts.push_back(text.starts_with("\xEF\xBB\xBF") ? 3 : 0);
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool ends = text[i] == '\n' || (text[i] == '\r' && (i + 1 == text.size() || text[i + 1] != '\n'));
    if (ends && i + 1 < text.size()) starts.push_back(i + 1);
  }
  return starts;
}

std::string_view lineOfText(std::string_view text, std::uint32_t number) {
  if (number == 0) return {};
  for (; number > 1 && !text.empty(); --number) {
    const std::size_t end = text.find('\n');
    text = end == std::string_view::npos ? std::string_view() : text.substr(end + 1);
  }
  text = text.substr(0, text.find('\n'));
  if (!text.empty() && text.back() == '\r') text.remove_suffix(1);
  return text;
}

std::string_view ProgramFacts::line(std::uint32_t number) const {
  if (number == 0 || number > line_starts.size()) return {};
  const std::size_t begin = line_starts[number - 1];
  std::size_t end = number < line_starts.size() ? line_starts[number] : text.size();
  while (end > begin && (text[end - 1] == '\n' || text[end - 1] == '\r')) --end;
  return std::string_view(text).substr(begin, end - begin);
}

}  // namespace provecut
