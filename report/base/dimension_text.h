// Sizes and places as somebody set them: one rounding wherever they are shown. What was measured, such as a clearance
// or a depth, has its rounding in wording.h.
#pragma once

#include <string>

#include "parser/job/job.h"

namespace provecut {

// "mm" or "in", as the job is shown.
std::string_view lengthUnit(const Job& job);

// In the job's unit without naming it: "19.05", "480", "0.75". To a hundredth of a millimetre or a ten-thousandth of an
// inch, no zeros at the end.
std::string dimensionText(const Job& job, double mm);

// "19.05 mm"
std::string dimensionWithUnit(const Job& job, double mm);

// "480 × 130 mm", "480 × 130 × 19.05 mm"
std::string dimensionsText(const Job& job, Vec2 size_mm);
std::string dimensionsText(const Job& job, Vec3 size_mm);

// "X 15 Y 20", without a unit.
std::string placeText(const Job& job, Vec2 at_mm);
template <class Frame>
std::string placeText(const Job& job, Point2<Frame> p) {
  return placeText(job, Vec2{p.x, p.y});
}

}  // namespace provecut
