#include "report/rules/thickness_text.h"

#include "report/rules/wording.h"

namespace provecut {

std::string thicknessText(const Job& job, double left_mm, int moves_with_blank) {
  const double tolerance = job.stock.thickness_tolerance_mm;
  if (tolerance <= 0) return {};
  const std::string by = quantityText(job, Quantity::length, tolerance);
  if (moves_with_blank == 0) return "A blank " + by + " thicker or thinner changes nothing here.";
  const auto left = [&](double mm) { return mm > 0 ? quantityText(job, Quantity::length, mm) : std::string("nothing"); };
  return "With a blank " + by + " thicker it is " + left(left_mm + tolerance * moves_with_blank) + ", with one " + by +
         " thinner " + left(left_mm - tolerance * moves_with_blank) + ".";
}

}  // namespace provecut
