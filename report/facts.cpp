#include "report/facts.h"

namespace provecut {

std::string_view ProgramFacts::line(std::uint32_t number) const {
  if (number == 0 || number > line_starts.size()) return {};
  const std::size_t begin = line_starts[number - 1];
  std::size_t end = number < line_starts.size() ? line_starts[number] : text.size();
  while (end > begin && (text[end - 1] == '\n' || text[end - 1] == '\r')) --end;
  return std::string_view(text).substr(begin, end - begin);
}

}  // namespace provecut
