// What a program set loose: pieces that it parted from the stock, parts that it left hanging on tabs, pieces whose
// hold-down is gone; followed from program to program and through the turning over.
#pragma once

#include <string>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/observed/move_cut.h"
#include "sim/observed/observation.h"
#include "sim/observed/pieces.h"
#include "sim/pieces/pieces.h"
#include "sim/pieces/tabbed_parts.h"
#include "sim/pieces/tabs.h"
#include "sim/stock/cut.h"

namespace provecut::pieces {

// A piece that some hold-down still held when a program parted it.
struct HeldPiece {
  Vec3 seed;    // a point of it, stock frame
  int run = 0;  // which ProgramRun listed it, and where
  std::size_t piece = 0;
};

// A through-cut in doubt that a later program may settle.
struct DoubtNow {
  Vec3 place;  // stock frame
  const Setup* setup = nullptr;
  float floor = 0, top = 0;  // of the dexel in the stock that is thick, lying frame
  int run = 0;               // which ProgramRun listed it, and where
  std::size_t index = 0;
};

struct PartTracker {
  std::vector<HeldPiece> held;
  std::vector<TabbedNow> hanging;
  std::vector<DoubtNow> doubts;
  bool parted = false;     // something has come off the stock
  double layered_mm2 = 0;  // where pieces lay one over another so far
  std::vector<std::string> not_checked;
};

struct ProgramCut {
  const Job& job;
  const Setup& setup;
  const ProgramEntry& entry;
  const Program& program;
  const Cutters& cutters;
  const cutting::DexelField& before;
  const cutting::DexelField& after;
};

// Fills ProgramRun::pieces, opened and thin_floors of runs[at] from what the program did; marks tabs of earlier runs
// that it cut; `other_side_zero_on_top`: how the setup that cut the underside had its Z zero.
void observeParts(const ProgramCut& cut, bool other_side_zero_on_top, std::vector<ProgramRun>& runs, int at,
                  PartTracker& tracker);

// Pieces that were held when they were parted and that nothing holds any more as this program begins.
void observeReleased(const Job& job, const Setup& setup, const ProgramEntry& entry, const cutting::DexelField& field,
                     std::vector<ProgramRun>& runs, int at, PartTracker& tracker);

}  // namespace provecut::pieces
