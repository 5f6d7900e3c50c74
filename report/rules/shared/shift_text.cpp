#include "report/rules/shared/shift_text.h"

#include <fmt/core.h>

#include <cmath>
#include <vector>

#include "report/base/wording.h"

namespace provecut {

std::string shiftText(const Job& job, Vec2 shift_mm, std::string_view how) {
  std::vector<std::string> ways;
  for (const Vec2 way : {Vec2{shift_mm.x, 0}, Vec2{0, shift_mm.y}}) {
    if (std::fabs(way.x + way.y) <= 0.005) continue;
    ways.push_back(
        fmt::format("{} {}{}", quantityText(job, Quantity::length, std::fabs(way.x + way.y)), how, directionText(way)));
  }
  return listText(ways);
}

}  // namespace provecut
