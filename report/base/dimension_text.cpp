#include "report/base/dimension_text.h"

#include <fmt/format.h>

#include "parser/base/units.h"
#include "report/base/number_text.h"

namespace provecut {

std::string_view lengthUnit(const Job& job) {
  return job.inches ? "in" : "mm";
}

double lengthUnit_mm(const Job& job) {
  return job.inches ? mm_per_inch : 1;
}

std::string dimensionText(const Job& job, double mm) {
  return shortNumber(mm / lengthUnit_mm(job), dimension_decimals);
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

std::string spotText(const Job& job, SetupPoint2 spot) {
  const double unit_mm = lengthUnit_mm(job);
  const int decimals = job.inches ? 3 : 2;
  return fmt::format("X {} Y {}", shortNumber(spot.x / unit_mm, decimals), shortNumber(spot.y / unit_mm, decimals));
}

std::string positionText(const Job& job, double mm) {
  return shortNumber(mm / lengthUnit_mm(job), positionDecimals(job));
}

int positionDecimals(const Job& job) {
  return job.inches ? 4 : 3;
}

}  // namespace provecut
