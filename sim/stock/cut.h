// Cutting a program's moves out of the stock, one after the other.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/observed/move_cut.h"
#include "sim/stock/dexel_field.h"
#include "sim/tool/cutter.h"

namespace provecut::cutting {

// For each cell the first motion (index + 1) after which its dexel holds nothing, and after which it reaches no
// higher than the highest floor of the dexels beside it; 0: never.
struct CutStamps {
  std::vector<std::uint32_t> through, parted;
  std::vector<float> part_level;  // the height that `parted` asks for
};

CutStamps makeStamps(const DexelField& field);

struct CutResult {
  std::vector<MoveCut> cuts;  // one per motion
  std::vector<BodyInStock> bodies_in_stock;
};

struct CutOptions {
  CutStamps* stamps = nullptr;  // filled where there are any
  bool measured = true;         // false: how wide each motion cuts is not asked for
};

// Cuts all motions of a program; the same result for any number of threads. Moves of tools without a cutter are left
// out. Points in the result are in work coordinates.
CutResult cutProgram(DexelField& field, const Cutters& cutters, const Job& job, const Setup& setup,
                     std::span<const Motion> motions, CutOptions options = {});

}  // namespace provecut::cutting
