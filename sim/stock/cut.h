// Cutting a program's moves out of the stock, one after the other.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/observed/move_cut.h"
#include "sim/stock/contact_log.h"
#include "sim/stock/dexel_field.h"
#include "sim/tool/cutter.h"

namespace provecut::cutting {

struct CutResult {
  std::vector<MoveCut> cuts;  // one per motion
  std::vector<BodyInStock> bodies_in_stock;
};

struct CutOptions {
  ContactLog* contacts = nullptr;  // of this field as it is; filled where there is one
  bool measured = true;            // false: how wide each motion cuts is not asked for
};

// Cuts all motions of a program; the same result for any number of threads. Moves of tools without a cutter are left
// out. Points in the result are in work coordinates.
CutResult cutProgram(DexelField& field, const Cutters& cutters, const Job& job, const Setup& setup,
                     std::span<const Motion> motions, CutOptions options = {});

}  // namespace provecut::cutting
