// How thick a move's chips are, and how thick they may be.
#pragma once

#include <optional>

#include "report/facts/facts.h"
#include "report/rules/shared/moves_by_tool.h"

namespace provecut {

// Chips of a move and what its tool should take there at most, mm.
struct Chip {
  double thickness_mm = 0, max_mm = 0;
  bool plunge = false;
  bool too_thick = false;  // beyond the maximum and its margin
};

// What the moves of a job's tools cut.
class Chips {
 public:
  explicit Chips(const Facts& facts) : facts_(facts), bodies_(facts.job) {}

  // Nothing where the move makes no chips, or no chart covers them.
  std::optional<Chip> of(const ToolMove& move);

 private:
  std::optional<double> max_mm(const ToolMove& move, const MoveCut& cut, bool plunge);

  const Facts& facts_;
  ToolBodies bodies_;
};

// True where the spindle turns slower than the machine can, and the chips would be right at its slowest: the speed is
// the cause.
bool slowSpindleMakes(const Facts& facts, const Motion& motion, const Chip& chip);

}  // namespace provecut
