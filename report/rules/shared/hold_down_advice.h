// What to do about a hold-down in the tool's way.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "report/facts/facts.h"
#include "report/facts/finding.h"

namespace provecut {

struct HoldDownAdvice {
  std::string text;
  std::vector<std::vector<AdvisedChange>> ways;  // as Finding::ways
};

// "Move screw SW 3.4 mm to the left, to X 8.6 Y 12. Or remove it before this program." The spot is the one that `place`
// gives, from the stock's front left corner in the setup. `moves` are those in its way; where all of them are sideways
// rapids that end clear of it, a height is offered too.
HoldDownAdvice holdDownAdvice(const Facts& facts, std::size_t program, int hold_down,
                              std::span<const std::uint32_t> moves);

}  // namespace provecut
