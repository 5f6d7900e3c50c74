// Money without binary fractions: exact ratios of whole numbers while computing, whole cents once rounded.
#pragma once

#include <boost/multiprecision/cpp_int.hpp>
#include <cstdint>
#include <string>

namespace provecut {

using Exact = boost::multiprecision::cpp_rational;

// The number as a person wrote it: the shortest decimal that reads back as the same double, taken exactly (0.1 is
// 1/10).
Exact exact(double as_written);

// All its digits: "8.875", "100000". For decimal fractions alone; a third has no end.
std::string decimalText(const Exact& number);

// A share as percents, with all its digits: "8.875 %".
std::string percentText(double share);

// Seconds to the nearest millisecond.
Exact exactSeconds(double seconds);

struct Cents {
  std::int64_t value = 0;
  friend auto operator<=>(const Cents&, const Cents&) = default;
};
inline Cents operator+(Cents a, Cents b) {
  return {a.value + b.value};
}
inline Cents operator-(Cents a, Cents b) {
  return {a.value - b.value};
}

// Fifteen digits pass through JSON's numbers unharmed.
inline constexpr Cents max_money{999'999'999'999'999};

// To the nearest cent, halves away from zero ("half up" for amounts above zero). More than max_money is held there:
// whoever shows amounts asks beyondCount() first.
Cents rounded(const Exact& amount);
inline bool beyondCount(Cents amount) {
  return amount >= max_money;
}

std::string moneyText(Cents amount);  // "1336.67"

}  // namespace provecut
