// Feeds that were hardly meant: off by a factor of ten, a hundred or a unit, or far too fast for a tiny tip.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "report/facts/facts.h"
#include "report/rules/shared/moves_by_tool.h"

namespace provecut {

// A feed that was hardly meant.
struct SlippedFeed {
  float feed_mm_min = 0;
  double chip_mm = 0;                  // way per tooth; 0: the speed is not known
  double seconds = 0;                  // that the tool spends at it
  std::optional<double> meant_mm_min;  // the feed that was probably meant
  bool used_elsewhere = false;         // the program cuts at that one, too
  bool least = false;                  // the one meant is the slowest at which the bit cuts
};

// The feeds of one tool in one program that are far too slow, slowest first.
struct FeedSlip {
  int tool = 0;
  std::vector<SlippedFeed> feeds;
  std::vector<Occurrence> moves;  // all that run at them; the amount is the feed
};

std::vector<FeedSlip> feedSlips(const Facts& facts, std::size_t program);

bool isSlip(const std::vector<FeedSlip>& slips, const Motion& motion);

// The feeds that the programs of the job use with the same tool, a tenth, a hundredth or a thousandth of this one, or
// the same digits in inches: nothing where none does.
struct ElsewhereFeed {
  double feed_mm_min = 0;
  std::size_t program = 0;
};
std::optional<ElsewhereFeed> slowerElsewhere(const Facts& facts, int tool, double feed_mm_min);

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
