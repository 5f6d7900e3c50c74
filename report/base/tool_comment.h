// What a program's comment says of a tool: "(T1 D=6. CR=0. - FLAT END MILL)", "(T07 = 5/16" DRILL, 135 Point
// Angle)", "(3MM CRB 2FL 12 LOC)", "(Schaftfraeser 6,35 mm)".
#pragma once

#include <optional>
#include <string_view>

#include "parser/job/job.h"
#include "report/base/bit_words.h"

namespace provecut {

struct ToolComment {
  std::optional<int> number;
  std::optional<ToolShape> shape;
  bool shape_named =
      false;  // a word names that shape, and none names another: "drill" is both a bit and what is done with one
  bool names_tool = false;                // a word such as "tool", "bit" or "cutter" is in it
  bool tapered = false;                   // a cone above its tip: what it calls its diameter is its tip's
  std::optional<double> diameter_mm;      // not of a tapered one
  std::optional<int> drill_number;        // "#7 drill", where that gives the diameter: may as well be the tool's number
  std::optional<double> tip_diameter_mm;  // tapered; vees
  std::optional<double> cone_diameter_mm;  // of a tapered bit, as its diameter: that of the tip or of the shank
  std::optional<double> corner_radius_mm;
  std::optional<double> angle_deg;  // drills and vees: included
  std::optional<double> taper_deg;  // tapered: half-angle; of a vee perhaps all of it
  std::optional<int> flutes;
  std::optional<double> flute_length_mm, overall_length_mm, shank_diameter_mm;
};

// Understands what generators and people commonly write (common practice, no source); what it does not understand stays
// absent. A number without a unit is in the program's: `inches`; a bare fraction, "3/8", is of an inch.
ToolComment readToolComment(std::string_view text, bool inches);

// Within 2 % or 0.05 mm, whichever is more: 1/4 in against 6.35, 6 against 5.98. Our own choice, no source.
bool sameDiameter(double said_mm, double known_mm);

// The diameter that a comment gives; of a tapered bit its tip's.
std::optional<double> saidDiameter_mm(const ToolComment& said);

}  // namespace provecut
