// Lengths as a person writes them on the command line: "9.5", "9.5mm", "0.375in", "3/8in".
#pragma once

#include <optional>
#include <string_view>
#include <vector>

namespace provecut {

inline constexpr double mm_per_inch = 25.4;

struct GivenLength {
  double value = 0;
  std::optional<double> mm_per_unit;  // absent: written without a unit
  double mm(double usual_mm_per_unit) const { return value * mm_per_unit.value_or(usual_mm_per_unit); }
};

// "mm" or "in" at the end is taken off `text`; absent where there is neither.
std::optional<double> takeUnit(std::string_view& text);

// "19.05" or "3/4"; absent for anything else, also for what is not finite.
std::optional<double> numberOf(std::string_view text);

// Absent where it is no length.
std::optional<GivenLength> lengthOf(std::string_view text);

// "60x20", "60x20mm", "60mmx2in": a unit that stands only at the end is that of all. Absent where one is no length.
std::optional<std::vector<GivenLength>> lengthsOf(std::string_view text);

}  // namespace provecut
