// Money without binary fractions: exact ratios of whole numbers while computing, whole cents once rounded.
#pragma once

#include <boost/multiprecision/cpp_int.hpp>
#include <cstdint>
#include <string>

namespace provecut {

using Exact = boost::multiprecision::cpp_rational;

// The number as a person wrote it: the shortest decimal that reads back as the same double, taken exactly (0.1 is 1/10).
Exact exact(double as_written);

// Seconds to the nearest millisecond.
Exact exactSeconds(double seconds);

struct Cents {
  std::int64_t value = 0;
  friend auto operator<=>(const Cents&, const Cents&) = default;
};
inline Cents operator+(Cents a, Cents b) { return {a.value + b.value}; }
inline Cents operator-(Cents a, Cents b) { return {a.value - b.value}; }

// To the nearest cent, halves away from zero ("half up" for amounts above zero). Amounts of more than fifteen digits are
// held at the largest of fifteen: nobody is quoted them, and fifteen digits pass through JSON's numbers unharmed.
Cents rounded(const Exact& amount);

std::string moneyText(Cents amount);  // "1336.67"

}  // namespace provecut
