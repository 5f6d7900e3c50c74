// Moves that cut at a piece which nothing holds any more.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/observed/move_cut.h"
#include "sim/pieces/cell_raster.h"
#include "sim/stock/dexel_field.h"
#include "sim/tool/cutter.h"

namespace provecut::pieces {

// What bites less does not cut, mm.
inline constexpr float least_bite_mm = 1e-3F;
// A cutter whose rim comes this near to a piece cuts beside it. Our estimate, no source.
inline constexpr double beside_mm = 0.5;
// Of a path that is looked at step by step.
inline constexpr double max_samples = 2000;

// A loose piece as it was when it came loose, in the setup frame of `setup`.
struct LoosePiece {
  const Setup* setup = nullptr;
  CellRaster<float> distance_mm;  // to its nearest dexel, over it and what a cutter reaches
  SetupBox box;
};

// `reach_mm`: as far as the widest cutter comes.
LoosePiece loosePiece(const cutting::DexelField& field, const Setup& setup, std::span<const cutting::Cell> cells,
                      const SetupBox& box, double reach_mm);

// Some motions of a program: [first, end).
struct MoveSpan {
  std::uint32_t first = 0, end = 0;
};

// Those of some moves that cut into the piece, and those that cut right beside it.
struct CutsAtLoose {
  std::vector<std::uint32_t> into, beside;
};

CutsAtLoose cutsAtLoose(const LoosePiece& piece, const Job& job, const Setup& setup, const Program& program,
                        const Cutters& cutters, const std::vector<MoveCut>& cuts, MoveSpan moves);

}  // namespace provecut::pieces
