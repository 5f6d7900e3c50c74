// Sizes and places, each with one rounding wherever it is shown: what somebody set or wrote, where a program goes, and
// spots that were worked out. What was measured, such as a clearance or a depth of cut, has its rounding in wording.h.
#pragma once

#include <string>

#include "parser/job/job.h"

namespace provecut {

// Decimals of what is shown as it was set: a ten-thousandth of a millimetre or of an inch, so that 1/16 in (1.5875 mm)
// reads as itself in both.
inline constexpr int dimension_decimals = 4;

// "mm" or "in", as the job is shown.
std::string_view lengthUnit(const Job& job);
// Millimetres to one of it.
double lengthUnit_mm(const Job& job);

// A length as it was set or written, in the job's unit without naming it: "19.05", "3.175", "480", "0.75". No idle
// zeros.
std::string dimensionText(const Job& job, double mm);

// "19.05 mm"
std::string dimensionWithUnit(const Job& job, double mm);

// "480 × 130 mm", "480 × 130 × 19.05 mm"
std::string dimensionsText(const Job& job, Vec2 size_mm);
std::string dimensionsText(const Job& job, Vec3 size_mm);

// A place as it was set: "X 15 Y 20", without a unit.
std::string placeText(const Job& job, Vec2 at_mm);
template <class Frame>
std::string placeText(const Job& job, Point2<Frame> p) {
  return placeText(job, Vec2{p.x, p.y});
}

// A place for a hold-down that was worked out, to a hundredth of a millimetre or a thousandth of an inch: "X 15.02 Y
// 20".
std::string spotText(const Job& job, SetupPoint2 spot);

// Where the tool is along one axis, to a thousandth of a millimetre or a ten-thousandth of an inch, without a unit:
// "18.35".
std::string positionText(const Job& job, double mm);
int positionDecimals(const Job& job);

}  // namespace provecut
