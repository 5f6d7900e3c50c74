// Cuts about as deep as the stock: do they go through?
#pragma once

#include <cstdint>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/observed/pieces.h"
#include "sim/stock/cut.h"

namespace provecut::pieces {

// A cut that goes through by less leaves a foil somewhere: no spoilboard is that flat, no zero is touched off any
// closer (our estimate, no source).
inline constexpr double foil_mm = 0.05;

struct ThroughSearch {
  const Job& job;
  const Setup& setup;
  const Program& program;
  const Cutters& cutters;
  const cutting::DexelField& before;
  const cutting::DexelField& after;
  // How far the cut surface and one cut from below move when the stock is 1 mm thicker, seen from the underside: see
  // sim/parts/thin_floor.h.
  int top_moves = 0, floor_moves = 0;
};

// A cut in doubt as it was found: DoubtfulThrough is what is told of it.
struct FoundDoubt {
  std::uint32_t move = 0;
  SetupPoint at;
  double as_said_mm = 0;  // left in the stock as said; 0 where it goes through
  double thickest_mm = 0;
  double area_mm2 = 0;
  float floor = 0, thick_top = 0;  // of its dexel in the stock that is thick, setup frame
  ThroughDoubt why = ThroughDoubt::exact;
  double beyond_mm = 0;  // how far it goes through the stock as said
};

// Places that are open in the stock as said, or nearly, and shut where it is thicker (where its zeros make that the
// other way round: thinner) by the tolerance; without one, by what a sheet may be off as it is sold; else by a foil.
// The program is cut once more in stock that is so far off; a place that a deeper one lies beside, such as the sloping
// rim that a drill's point leaves, is none.
std::vector<FoundDoubt> doubtfulThroughs(const ThroughSearch& search);

}  // namespace provecut::pieces
