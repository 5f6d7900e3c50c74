#include "report/base/length_text.h"

#include <charconv>
#include <cmath>
#include <utility>

namespace provecut {

namespace {

std::optional<double> decimal(std::string_view text) {
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed);
  if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}

}  // namespace

std::optional<double> takeUnit(std::string_view& text) {
  for (const auto& [unit, mm] : {std::pair{"mm", 1.0}, std::pair{"in", mm_per_inch}}) {
    if (!text.ends_with(unit)) continue;
    text.remove_suffix(2);
    return mm;
  }
  return std::nullopt;
}

std::optional<double> numberOf(std::string_view text) {
  const std::size_t slash = text.find('/');
  if (slash == std::string_view::npos) return decimal(text);
  const auto over = decimal(text.substr(0, slash)), under = decimal(text.substr(slash + 1));
  if (!over || !under || *under == 0) return std::nullopt;
  return *over / *under;
}

std::optional<GivenLength> lengthOf(std::string_view text) {
  GivenLength length;
  length.mm_per_unit = takeUnit(text);
  const auto value = numberOf(text);
  if (!value) return std::nullopt;
  length.value = *value;
  return length;
}

std::optional<std::vector<GivenLength>> lengthsOf(std::string_view text) {
  std::vector<GivenLength> lengths;
  for (std::size_t begin = 0; begin <= text.size();) {
    const std::size_t end = std::min(text.find_first_of("xX", begin), text.size());
    const auto length = lengthOf(text.substr(begin, end - begin));
    if (!length) return std::nullopt;
    lengths.push_back(*length);
    begin = end + 1;
  }
  for (GivenLength& length : lengths) {
    if (!length.mm_per_unit) length.mm_per_unit = lengths.back().mm_per_unit;
  }
  return lengths;
}

}  // namespace provecut
