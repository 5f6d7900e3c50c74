// Programs cut once more in single columns.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

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

// One program, for as many columns as are asked for; everything given must outlive it. `field` gives only the places.
class ColumnReplayer {
 public:
  ColumnReplayer(const ColumnField& field, const Cutters& cutters, const Job& job, const Setup& setup, std::span<const Motion> motions)
      : field_(field), cutters_(cutters), job_(job), setup_(setup), motions_(motions) {}

  ColumnReplay replay(std::size_t cell, const ColumnStart& start);

 private:
  // How far a motion's cutter reaches in plan, lying frame; nothing of those that cut nothing.
  struct Reach {
    float low_x = 1, low_y = 0, high_x = 0, high_y = 0;
  };
  void findReaches();

  const ColumnField& field_;
  const Cutters& cutters_;
  const Job& job_;
  const Setup& setup_;
  std::span<const Motion> motions_;
  std::vector<Reach> reaches_;  // one per motion, once a column was asked for
};

}  // namespace provecut
