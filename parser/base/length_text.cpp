#include "parser/base/length_text.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <utility>

#include "parser/base/units.h"

namespace provecut {

namespace {

// Millimetres to one of each.
constexpr std::array<std::pair<std::string_view, double>, 5> units{
    {{"mm", 1}, {"inches", mm_per_inch}, {"inch", mm_per_inch}, {"in", mm_per_inch}, {"\"", mm_per_inch}}};

bool isDigit(char c) {
  return c >= '0' && c <= '9';
}

bool isLetter(char c) {
  return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
}

std::string_view withoutSpaces(std::string_view text) {
  return text.substr(std::min(text.find_first_not_of(' '), text.size()));
}

std::optional<double> takeDecimal(std::string_view& text) {
  const std::size_t first = text.starts_with('-') ? 1 : 0;
  if (text.size() <= first || !(isDigit(text[first]) || text[first] == '.')) return std::nullopt;
  double value = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed);
  if (read.ec != std::errc{} || !std::isfinite(value)) return std::nullopt;
  text.remove_prefix(static_cast<std::size_t>(read.ptr - text.data()));
  return value;
}

}  // namespace

std::optional<double> takeNumber(std::string_view& text) {
  const auto over = takeDecimal(text);
  if (!over || !text.starts_with('/')) return over;
  std::string_view rest = text.substr(1);
  const auto under = takeDecimal(rest);
  if (!under || *under == 0) return over;
  text = rest;
  return *over / *under;
}

std::optional<double> takeUnit(std::string_view& text) {
  const std::string_view from = withoutSpaces(text);
  for (const auto& [unit, mm] : units) {
    if (!from.starts_with(unit)) continue;
    const std::string_view rest = from.substr(unit.size());
    if (isLetter(unit[0]) && !rest.empty() && isLetter(rest[0])) continue;
    text = rest;
    return mm;
  }
  return std::nullopt;
}

std::optional<double> takeUnitAtEnd(std::string_view& text) {
  for (const auto& [unit, mm] : units) {
    if (!text.ends_with(unit)) continue;
    text.remove_suffix(unit.size());
    while (text.ends_with(' ')) text.remove_suffix(1);
    return mm;
  }
  return std::nullopt;
}

std::optional<double> readNumber(std::string_view text) {
  const auto number = takeNumber(text);
  return text.empty() ? number : std::nullopt;
}

std::optional<double> takeMixedNumber(std::string_view& text) {
  const auto whole = takeNumber(text);
  if (!whole || *whole != std::floor(*whole)) return whole;
  std::string_view rest = text;
  if (!rest.starts_with(' ') && !rest.starts_with('-')) return whole;
  rest = withoutSpaces(rest.substr(1));
  const bool over = !rest.empty() && isDigit(rest[0]);
  const std::string_view written = rest;
  const auto part = over ? takeNumber(rest) : std::nullopt;
  const std::string_view fraction = written.substr(0, written.size() - rest.size());
  if (!part || *part >= 1 || fraction.find('/') == std::string_view::npos) return whole;
  text = rest;
  return *whole < 0 ? *whole - *part : *whole + *part;
}

std::optional<WrittenLength> readLength(std::string_view text) {
  const auto value = takeMixedNumber(text);
  if (!value) return std::nullopt;
  const WrittenLength length{*value, takeUnit(text)};
  return text.empty() ? std::optional(length) : std::nullopt;
}

}  // namespace provecut
