// What it takes to show a job being cut: the stock before each program, coarse, and when each move runs.
#pragma once

#include <optional>
#include <vector>

#include "sim/stock/height_map.h"

namespace provecut {

struct ProgramReplay {
  cutting::HeightMap before;                // the stock as the program finds it
  std::optional<cutting::HeightMap> after;  // of a setup's last program; else the next program's `before`
  std::vector<float> move_s;                // planned time, one per motion
  std::vector<float> event_s;               // one per event
  double change_before_s = 0;               // a change of tool by hand before it
};

struct Replay {
  std::size_t max_cells = 1'000'000;    // about so many in a height map at most
  std::vector<ProgramReplay> programs;  // in the order of the job
};

}  // namespace provecut
