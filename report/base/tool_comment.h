// What a program's comment says of a tool: "(T1 D=6. CR=0. - FLAT END MILL)", "(T07 = 5/16" DRILL, 135 Point
// Angle)".
#pragma once

#include <optional>
#include <string_view>

#include "parser/job/job.h"

namespace provecut {

struct ToolComment {
  std::optional<int> number;
  std::optional<ToolShape> shape;
  bool shape_named =
      false;  // a word names that shape, and none names another: "drill" is both a bit and what is done with one
  std::optional<double> diameter_mm;
  std::optional<double> corner_radius_mm;
  std::optional<double> angle_deg;  // drills and vees: included
};

// Understands what generators commonly write (common practice, no source); what it does not understand stays
// absent. A number without a unit is in the program's: `inches`.
ToolComment readToolComment(std::string_view text, bool inches);

// Are these bits that nobody takes for one another by another name? A bull nose and a surfacing bit count as flat.
bool sameKind(ToolShape a, ToolShape b);

}  // namespace provecut
