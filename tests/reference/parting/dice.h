#pragma once

#include <cmath>
#include <cstddef>
#include <initializer_list>
#include <random>

namespace provecut::reference {

// Chance from the raw words of the generator: the distributions of the standard library differ between libraries.
struct Dice {
  std::mt19937& generator;

  double real(double low, double high) {
    return low + (high - low) * (static_cast<double>(generator()) / 4294967296.0);
  }
  // A length of three decimals.
  double milli(double low, double high) { return std::round(real(low, high) * 1000) / 1000; }
  // Both ends count.
  int integer(int low, int high) { return low + static_cast<int>(real(0, high - low + 1)); }
  bool chance(double p) { return real(0, 1) < p; }
  template <class T>
  T pick(std::initializer_list<T> choices) {
    return choices.begin()[integer(0, static_cast<int>(choices.size()) - 1)];
  }
};

}  // namespace provecut::reference
