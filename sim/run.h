// The one entry point of the simulation: a job and its interpreted programs → what was seen.
#pragma once

#include <functional>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/observed/observation.h"
#include "sim/path/programs.h"
#include "sim/replay.h"
#include "sim/stage.h"
#include "sim/stock/dexel_field.h"

namespace provecut {

struct RunOptions {
  double cell_mm = 0;        // 0: from the job, else chosen
  int threads = 0;           // 0: all
  bool outlines = false;     // of the pieces
  bool tabs = true;          // false: parts that only tabs hold are not looked for, which takes much of the time
  Replay* replay = nullptr;  // filled where there is one; what is seen does not depend on it
  std::function<void(int program, int programs)> progress;  // may be empty
  StageObserver stage;                                      // told of each stage at the end; may be empty
  std::function<void(const cutting::DexelField& stock)>
      finished_stock;  // gets what is left at the end, in the stock frame; may be empty
};

Run run(const Job& job, const Programs& programs, const RunOptions& options = {});

}  // namespace provecut
