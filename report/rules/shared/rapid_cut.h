// What a rapid takes from the stock, and how little of it is a graze.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "report/facts/facts.h"
#include "report/rules/shared/moves_by_tool.h"

namespace provecut {

// The machine's own give hides less than both of these: our own estimate.
inline constexpr double max_graze_depth_mm = 0.25, max_graze_area_mm2 = 0.5;

struct RapidCut {
  std::uint32_t move = 0;
  double depth_mm = 0;  // the most taken off any place
  // Of the cut across its way; of a rapid steeper than 45 degrees, seen from above, the mean over its depth.
  double area_mm2 = 0;
  double width_mm = 0;  // across its way, the mean over its depth; 0 for a rapid steeper than 45 degrees
  bool tapers = false;  // the cutter is not as wide at its tip as above, so that a mean is less than the width on top
  // It brushes what earlier cuts left: little of it, and no untouched face by half of the cutter's width or more. A
  // rapid that goes down steeply never does.
  bool graze = false;
};

// All rapids of a program that cut the stock, in their order.
std::vector<RapidCut> rapidCuts(const Facts& facts, std::size_t program);

}  // namespace provecut
