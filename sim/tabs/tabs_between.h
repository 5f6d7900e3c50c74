// Tabs that a program leaves and cuts again itself: they are gone as it ends.
#pragma once

#include "sim/tabs/on_tabs.h"
#include "sim/tabs/opened_by.h"

namespace provecut::pieces {

// Of a program, that are looked at.
inline constexpr std::size_t max_stages = 12;

// Adds to `run` the parts that are left on tabs which the same program cuts later and that it cuts into before, with
// what it cuts beside and in them until then. False: there are more such moments than are looked at.
bool observeTabsBetween(const PartedCut& parted, const OpenedBy& opened_by, ProgramRun& run, PieceEvents& events);

}  // namespace provecut::pieces
