// Feeds that were hardly meant: off by a factor of ten, a hundred or a unit, or far too fast for a tiny tip.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "report/facts/facts.h"
#include "report/rules/shared/moves_by_tool.h"

namespace provecut {

// A feed of one tool in one program that is far too slow.
struct FeedSlip {
  int tool = 0;
  float feed_mm_min = 0;
  std::vector<Occurrence> moves;       // all that run at it; the amount is the feed
  double chip_mm = 0;                  // way per tooth; 0: the speed is not known
  double seconds = 0;                  // that they take at it
  std::optional<double> meant_mm_min;  // the feed that was probably meant
  bool used_elsewhere = false;         // the program cuts at that one, too
};

std::vector<FeedSlip> feedSlips(const Facts& facts, std::size_t program);

bool isSlip(const std::vector<FeedSlip>& slips, const Motion& motion);

// A pointed tool of less than 1 mm at its tip bears two fifths of that width per tooth: our own estimate, eight times
// what charts give larger ones. Nothing for other tools, for vees without a tip_diameter, and for tools with a
// chip_load of their own.
inline constexpr double max_tip_share = 0.4;
std::optional<double> maxTipChip_mm(const Tool& tool, double width_mm);

// A move that takes more than that at the speed which the machine reaches: its chip load and the most it may be. A
// spindle slower than the machine's slowest is spindle-range's.
struct TipChip {
  double chip_mm = 0, max_mm = 0;
};
std::optional<TipChip> breaksTip(const Facts& facts, ToolBodies& bodies, const ToolMove& move);

}  // namespace provecut
