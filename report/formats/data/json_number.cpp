#include "report/formats/data/json_number.h"

#include <cmath>
#include <nlohmann/json.hpp>

namespace provecut {

nlohmann::ordered_json number(double value, int decimals) {
  if (!std::isfinite(value)) return nullptr;
  const double step = std::pow(10.0, decimals), rounded = std::round(value * step) / step;
  if (!std::isfinite(rounded)) return value;  // too large to have decimals
  return rounded == 0 ? 0.0 : rounded;
}

}  // namespace provecut
