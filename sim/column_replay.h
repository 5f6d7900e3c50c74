// A program cut once more in a single column.
#pragma once

#include <cstdint>
#include <optional>
#include <span>

#include "sim/cut.h"

namespace provecut {

struct ColumnReplay {
  float top = 0;                             // as the motions leave it
  std::optional<std::uint32_t> last;         // the motion that made it so; none: none of them cut here
};

// What the column holds to begin with: material from `floor` to `top` (lying frame), but for the hollows, if any.
struct ColumnStart {
  float floor = 0, top = 0;
  const UndercutCell* hollows = nullptr;
};

// `cell` of `field` gives only the place.
ColumnReplay replayColumn(const ColumnField& field, std::size_t cell, const ColumnStart& start, const Cutters& cutters,
                          const Job& job, const Setup& setup, std::span<const Motion> motions);

}  // namespace provecut
