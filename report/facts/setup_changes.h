// Where a program goes on with the stock in another setup: after a stop, or with another work offset, a comment names
// another operation, another zero or another side.
#pragma once

#include <cstdint>
#include <vector>

#include "report/facts/facts.h"

namespace provecut {

struct SetupChange {
  Place comment;                    // that says so
  Place stop;                       // the stop or the work offset beside it
  std::uint32_t before_motion = 0;  // index of the first motion behind it
  bool by_stop = true;
};

// In order of place, each comment once; none before the first cut.
std::vector<SetupChange> setupChanges(const ProgramFacts& program);

// The same where no [[accept]] of the job says that the comments mean something else.
std::vector<SetupChange> setupChanges(const Facts& facts, std::size_t program);

}  // namespace provecut
