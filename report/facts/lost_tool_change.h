// A tool change of which only the comment is left.
#pragma once

#include <cstddef>
#include <vector>

#include "report/facts/facts.h"

namespace provecut {

// Between two cuts the spindle or the program stops, and a comment there names another bit, but nothing changes it.
struct LostToolChange {
  const Event* comment = nullptr;
  const Tool* running = nullptr;  // in the spindle before and after
  const Tool* named = nullptr;    // null: the job file does not have it
};

// One for each such stop of the program, in order.
std::vector<LostToolChange> lostToolChanges(const Facts& facts, std::size_t program_order);

}  // namespace provecut
