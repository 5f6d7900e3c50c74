#include "report/rules/shared/thickness_text.h"

#include "report/base/wording.h"

namespace provecut {

std::string thicknessText(const Job& job, double left_mm, int moves_with_stock) {
  const double tolerance = job.stock.thickness_tolerance_mm;
  if (tolerance <= 0) return {};
  const std::string by = quantityText(job, Quantity::length, tolerance);
  if (moves_with_stock == 0) return "Stock " + by + " thicker or thinner changes nothing here.";
  const auto left = [&](double mm) {
    return mm > 0 ? quantityText(job, Quantity::length, mm) : std::string("nothing");
  };
  return "With stock " + by + " thicker it is " + left(left_mm + tolerance * moves_with_stock) + ", with one " + by +
         " thinner " + left(left_mm - tolerance * moves_with_stock) + ".";
}

}  // namespace provecut
