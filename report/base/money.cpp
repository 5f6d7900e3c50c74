#include "report/base/money.h"

#include <charconv>
#include <cmath>
#include <cstdlib>

#include "parser/base/check.h"

namespace provecut {
namespace {

using boost::multiprecision::cpp_int;

cpp_int powerOfTen(int exponent) {
  return boost::multiprecision::pow(cpp_int(10), static_cast<unsigned>(exponent));
}

}  // namespace

Exact exact(double as_written) {
  CHECK(std::isfinite(as_written));
  char text[64];
  // d.ddde±xx: the digits are a whole number, the rest a power of ten.
  const auto [end, error] = std::to_chars(text, text + sizeof text, as_written, std::chars_format::scientific);
  CHECK(error == std::errc());
  cpp_int digits = 0;
  int exponent = 0, decimals = 0;
  bool negative = false, after_point = false;
  for (const char* c = text; c != end; ++c) {
    if (*c == '-') {
      negative = true;
    } else if (*c == '.') {
      after_point = true;
    } else if (*c == 'e') {
      const char* number = c + 1 + (c[1] == '+' ? 1 : 0);
      std::from_chars(number, end, exponent);
      break;
    } else {
      digits = digits * 10 + (*c - '0');
      decimals += after_point ? 1 : 0;
    }
  }
  if (negative) digits = -digits;
  const int power = exponent - decimals;
  return power >= 0 ? Exact(digits * powerOfTen(power)) : Exact(digits, powerOfTen(-power));
}

std::string decimalText(const Exact& number) {
  cpp_int digits = boost::multiprecision::abs(boost::multiprecision::numerator(number));
  const cpp_int bottom = boost::multiprecision::denominator(number);
  std::size_t decimals = 0;
  for (; digits % bottom != 0; ++decimals) {
    CHECK(decimals < 400);
    digits *= 10;
  }
  std::string text = cpp_int(digits / bottom).str();
  if (decimals > 0) {
    if (text.size() <= decimals) text.insert(0, decimals + 1 - text.size(), '0');
    text.insert(text.size() - decimals, ".");
  }
  return (number < 0 ? "-" : "") + text;
}

std::string percentText(double share) {
  return decimalText(exact(share) * 100) + " %";
}

Exact exactSeconds(double seconds) {
  CHECK(std::isfinite(seconds));
  constexpr double thirty_thousand_years_s =
      1e12;  // a feed of almost nothing takes longer, and its milliseconds fit no whole number
  return std::fabs(seconds) < thirty_thousand_years_s ? Exact(std::llround(seconds * 1000), 1000) : exact(seconds);
}

Cents rounded(const Exact& amount) {
  const cpp_int top = boost::multiprecision::numerator(amount), bottom = boost::multiprecision::denominator(amount);
  const bool negative = top < 0;
  const cpp_int cents = (2 * 100 * (negative ? cpp_int(-top) : top) + bottom) / (2 * bottom);
  const std::int64_t value = cents > max_money.value ? max_money.value : static_cast<std::int64_t>(cents);
  return {negative ? -value : value};
}

std::string moneyText(Cents amount) {
  const std::int64_t value = amount.value < 0 ? -amount.value : amount.value;
  std::string text = amount.value < 0 ? "-" : "";
  text += std::to_string(value / 100);
  text += value % 100 < 10 ? ".0" : ".";
  text += std::to_string(value % 100);
  return text;
}

}  // namespace provecut
