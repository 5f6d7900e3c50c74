// A program as those who look for its pieces see it.
#pragma once

#include <optional>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/observed/observation.h"
#include "sim/stock/close_up.h"
#include "sim/stock/contact_log.h"
#include "sim/stock/dexel_field.h"
#include "sim/stock/dexel_replay.h"
#include "sim/tool/cutter.h"

namespace provecut::pieces {

// A program that is about to start, or has been cut.
struct ProgramAt {
  const Job& job;
  const Setup& setup;
  const ProgramEntry& entry;
  int run = 0;            // index of its ProgramRun
  bool outlines = false;  // of the pieces, where they are told
  bool tabs = true;       // false: parts on tabs are not looked for
};

struct ProgramCut {
  ProgramAt at;
  const Program& program;
  const Cutters& cutters;
  const cutting::DexelField& before;
  const cutting::DexelField& after;
  const cutting::ContactLog& contacts;
  const cutting::PastCuts& past;       // this one is the last
  bool other_side_zero_on_top = true;  // how the setup that cut the underside had its Z zero
};

// The cell under a point of the stock, or none.
std::optional<cutting::Cell> cellAt(const cutting::DexelField& field, const ProgramAt& at, StockPoint2 point);

// On top of the dexel.
SetupPoint cellCentre(const cutting::DexelField& field, cutting::Cell c);

double widestCutter_mm(const Job& job);

// The last motion of the program that cut anything; 0: none did.
std::uint32_t lastCut(const Program& program, const ProgramRun& run);

// The motion that made dexel `cell` as low as it is: the program is cut once more in that dexel alone.
std::uint32_t motionThatCut(const ProgramCut& cut, cutting::DexelReplayer& replayer, cutting::Cell cell);

}  // namespace provecut::pieces
