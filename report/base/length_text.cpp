#include "report/base/length_text.h"

#include <algorithm>

namespace provecut {

std::optional<std::vector<WrittenLength>> lengthsOf(std::string_view text) {
  std::vector<WrittenLength> lengths;
  for (std::size_t begin = 0; begin <= text.size();) {
    const std::size_t end = std::min(text.find_first_of("xX", begin), text.size());
    const auto length = readLength(text.substr(begin, end - begin));
    if (!length) return std::nullopt;
    lengths.push_back(*length);
    begin = end + 1;
  }
  for (WrittenLength& length : lengths) {
    if (!length.mm_per_unit) length.mm_per_unit = lengths.back().mm_per_unit;
  }
  return lengths;
}

}  // namespace provecut
