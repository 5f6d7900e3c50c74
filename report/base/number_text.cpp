#include "report/base/number_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace provecut {

std::string fixedText(double value, int decimals) {
  char buffer[400];
  const int n = std::snprintf(buffer, sizeof buffer, "%.*f", decimals, value);
  std::string text(buffer, static_cast<std::size_t>(std::clamp(n, 0, 399)));
  const bool zero = text.find_first_of("123456789") == std::string::npos;
  if (zero && text.starts_with('-') && std::isfinite(value)) text.erase(0, 1);
  return text;
}

std::string shortNumber(double value, int max_decimals, int min_decimals) {
  if (!std::isfinite(value)) return "?";
  std::string text = fixedText(value, max_decimals);
  const std::size_t point = text.find('.');
  if (point == std::string::npos) return text;
  const std::size_t shortest = point + 1 + static_cast<std::size_t>(std::clamp(min_decimals, 0, max_decimals));
  while (text.size() > shortest && text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string withThousands(std::string number) {
  const std::size_t first = number.starts_with('-') ? 1 : 0;
  for (std::size_t at = std::min(number.find('.'), number.size()); at > first + 3; at -= 3) number.insert(at - 3, ",");
  return number;
}

std::string durationText(double seconds) {
  if (!std::isfinite(seconds) || seconds < 0) return "?";
  const long long s = std::llround(std::min(seconds, 1e12));
  return fmt::format("{}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60);
}

std::string shareText(double share) {
  const double percent = share * 100;
  if (percent > 0 && percent < 0.05) return "< 0.1 %";
  return fixedText(percent, percent > 0 && percent < 0.95 ? 1 : 0) + " %";
}

std::string rangeText(double low, double high, int max_decimals) {
  if (!(high > 0)) return {};
  const std::string from = withThousands(shortNumber(low, max_decimals)),
                    to = withThousands(shortNumber(high, max_decimals));
  return from == to ? from : from + " to " + to;
}

}  // namespace provecut
