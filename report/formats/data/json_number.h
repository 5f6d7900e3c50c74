// Numbers as JSON files hold them.
#pragma once

#include <cmath>
#include <nlohmann/json.hpp>

namespace provecut {

// Rounded to `decimals`, so that 2.1 is not written as 2.0999999999999996: nine are a thousandth of the contact
// tolerance. Never "-0"; null for what is no number.
inline nlohmann::ordered_json number(double value, int decimals = 9) {
  if (!std::isfinite(value)) return nullptr;
  const double step = std::pow(10.0, decimals), rounded = std::round(value * step) / step;
  if (!std::isfinite(rounded)) return value;  // too large to have decimals
  return rounded == 0 ? 0.0 : rounded;
}

}  // namespace provecut
