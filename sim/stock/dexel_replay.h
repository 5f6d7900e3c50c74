// Programs cut once more in single dexels.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/stock/cut.h"

namespace provecut::cutting {

struct DexelReplay {
  float top = 0;                      // as the motions leave it
  std::optional<std::uint32_t> last;  // the motion that made it so; none: none of them cut here
};

// What the dexel holds to begin with: material from `floor` to `top` (setup frame), but for the hollows, if any.
struct DexelStart {
  float floor = 0, top = 0;
  const UndercutCell* hollows = nullptr;
};

// One program, for as many dexels as are asked for; everything given must outlive it. `field` gives only the places.
class DexelReplayer {
 public:
  DexelReplayer(const DexelField& field, const Cutters& cutters, const Job& job, const Setup& setup,
                std::span<const Motion> motions)
      : field_(field), cutters_(cutters), job_(job), setup_(setup), motions_(motions) {}

  DexelReplay replay(Cell cell, const DexelStart& start);

 private:
  // How far a motion's cutter reaches in plan, setup frame; nothing of those that cut nothing.
  struct Reach {
    float low_x = 1, low_y = 0, high_x = 0, high_y = 0;
  };
  void findReaches();

  const DexelField& field_;
  const Cutters& cutters_;
  const Job& job_;
  const Setup& setup_;
  std::span<const Motion> motions_;
  std::vector<Reach> reaches_;  // one per motion, once a dexel was asked for
};

}  // namespace provecut::cutting
