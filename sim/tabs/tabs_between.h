// Tabs that a program leaves and cuts again itself: they are gone as it ends.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "sim/tabs/on_tabs.h"
#include "sim/tabs/opened_by.h"

namespace provecut::pieces {

struct TabsBetween {
  std::vector<TabbedNow> kept;           // those of which some tabs are left as the program ends
  std::optional<std::size_t> looked_at;  // so many such moments of more; none: all
};

// Adds to `run` the parts that are left on tabs of which the same program cuts some or all later, if it cuts into the
// part before; with what it cuts beside and in them until then. `tabbed`: as the program ends.
TabsBetween observeTabsBetween(const PartedCut& parted, const std::vector<TabbedPart>& tabbed,
                               const OpenedBy& opened_by, ProgramRun& run, PieceEvents& events);

}  // namespace provecut::pieces
