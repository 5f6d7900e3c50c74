#include "sim/parts/sold_thickness.h"

#include <cmath>

namespace provecut::pieces {

namespace {

constexpr double mm_per_thirty_second = 25.4 / 32;

bool isMultiple(double t, double of, double within) {
  return std::abs(t - of * std::round(t / of)) <= within;
}

// Whole and half millimetres, thirty-seconds of an inch, sixteenths rounded to a tenth of a millimetre, and the
// plywoods of 3.6 and 5.2 mm (catalogues, from memory).
bool isSoldAs(double t) {
  constexpr double typed = 1e-6, rounded_hundredth = 0.005 + typed, rounded_tenth = 0.05 + typed;
  if (isMultiple(t, 0.5, typed) || isMultiple(t, mm_per_thirty_second, rounded_hundredth)) return true;
  if (!isMultiple(t, 0.1, typed)) return false;
  return isMultiple(t, 2 * mm_per_thirty_second, rounded_tenth) || std::abs(t - 3.6) <= typed ||
         std::abs(t - 5.2) <= typed;
}

}  // namespace

std::optional<SoldSpread> soldSpread(Material material, double t) {
  if (!isSoldAs(t)) return std::nullopt;
  if (material == Material::acrylic) return SoldSpread{0.4 + 0.1 * t, 0.4 + 0.1 * t};
  if (material == Material::plywood) return SoldSpread{0.4 + 0.03 * t, 0.2 + 0.03 * t};
  if (material == Material::mdf) return t <= 19 ? SoldSpread{0.2, 0.2} : SoldSpread{0.3, 0.3};
  if (material == Material::board) return SoldSpread{0.8, 0.8};  // an OSB that is not sanded varies most
  return std::nullopt;
}

}  // namespace provecut::pieces
