#include "report/base/dimension_text.h"

#include <fmt/format.h>

#include "parser/base/units.h"
#include "report/base/number_text.h"

namespace provecut {

std::string_view lengthUnit(const Job& job) {
  return job.inches ? "in" : "mm";
}

std::string dimensionText(const Job& job, double mm) {
  return job.inches ? shortNumber(mm / mm_per_inch, 4) : shortNumber(mm, 2);
}

std::string dimensionWithUnit(const Job& job, double mm) {
  return fmt::format("{} {}", dimensionText(job, mm), lengthUnit(job));
}

std::string dimensionsText(const Job& job, Vec2 size) {
  return fmt::format("{} × {}", dimensionText(job, size.x), dimensionWithUnit(job, size.y));
}

std::string dimensionsText(const Job& job, Vec3 size) {
  return fmt::format("{} × {} × {}", dimensionText(job, size.x), dimensionText(job, size.y),
                     dimensionWithUnit(job, size.z));
}

std::string placeText(const Job& job, Vec2 at) {
  return fmt::format("X {} Y {}", dimensionText(job, at.x), dimensionText(job, at.y));
}

}  // namespace provecut
