// Lengths as people write them: "19.05", "18.7mm", "3/4 in", "5/16\"", "5 1/2 in".
#pragma once

#include <optional>
#include <string_view>

namespace provecut {

struct WrittenLength {
  double value = 0;                   // in the unit written, or in whatever unit is meant
  std::optional<double> mm_per_unit;  // absent: no unit was written
  double mm(double usual_mm_per_unit) const { return value * mm_per_unit.value_or(usual_mm_per_unit); }
};

// A decimal or a fraction from the front of `text`, which then begins behind it; nothing, and `text` as it was, where
// there is none. No exponents, no infinities.
std::optional<double> takeNumber(std::string_view& text);

// The same, and a whole number with a fraction behind it: "5 1/2", "1-3/8".
std::optional<double> takeMixedNumber(std::string_view& text);

// mm, in, inch, inches or ", after spaces: millimetres to one of it. Nothing, and `text` as it was, where there is
// none.
std::optional<double> takeUnit(std::string_view& text);

// The same from the end of `text`, which then ends before it.
std::optional<double> takeUnitAtEnd(std::string_view& text);

// The whole of `text` as a number; nothing where it is none.
std::optional<double> readNumber(std::string_view text);

// The whole of `text`; nothing where it is no length.
std::optional<WrittenLength> readLength(std::string_view text);

}  // namespace provecut
