#include "report/rules/shared/thickness_text.h"

#include <fmt/core.h>

#include "report/base/dimension_text.h"
#include "report/base/wording.h"

namespace provecut {

std::string thicknessText(const Job& job, double left_mm, int moves_with_stock) {
  const double tolerance = job.stock.thickness_tolerance_mm;
  if (tolerance <= 0) return {};
  const std::string by = dimensionWithUnit(job, tolerance);
  if (moves_with_stock == 0) return fmt::format("True over your whole thickness tolerance (±{}).", by);
  const auto left = [&](double mm) {
    return mm > 0 ? quantityText(job, Quantity::length, mm) : std::string("nothing");
  };
  return fmt::format("{} thicker stock leaves {}, {} thinner stock {}.", by,
                     left(left_mm + tolerance * moves_with_stock), by, left(left_mm - tolerance * moves_with_stock));
}

}  // namespace provecut
