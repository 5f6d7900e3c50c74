// Blind holes from both faces of the stock whose axes lie so near each other that they are meant to be one hole.
#pragma once

#include <span>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/observed/holes.h"
#include "sim/observed/observation.h"
#include "sim/path/programs.h"
#include "sim/stock/cut.h"

namespace provecut::holes {

// Holes are straight plunges into material that are not the way into a slot, and bores (full circles that leave no
// core). A pair is one hole from each face, neither of them through the stock by itself, that overlap seen from above.
std::vector<HolePair> holePairs(const Job& job, const Programs& programs, std::span<const ProgramRun> runs);

}  // namespace provecut::holes
