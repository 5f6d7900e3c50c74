// How far a hold-down that is hit or passed too near must be shifted to be out of the way.
#pragma once

#include <span>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/observed/contacts.h"
#include "sim/observed/escape.h"
#include "sim/observed/observation.h"
#include "sim/path/programs.h"

namespace provecut::placing {

// For every setup and every hold-down that its programs hit or pass too near, the smallest shift to the left,
// right, front and back, in steps of 0.1 mm (0.001 in where the job file is in inches), up to 150 mm, at
// which
//  - every move of every program of the job in which it stands keeps limits.clearance (checked at that very
//  place);
//  - it lies to the stock as before: wholly on it, wholly beside it, or across its edge;
//  - it overlaps no other hold-down that stands with it (tape apart);
//  - a screw comes into no part: no round of a cut goes about its new place that did not go about the old
//  one.
// A direction without such a place is left out. Pins are left out, since their holes fix their places, and so
// is tape. Whether the wood at the new place is cut away by then is not looked at. In the order of setups and
// hold-downs, the shortest shift first.
std::vector<Escape> holdDownShifts(const Job& job, const Programs& programs, std::span<const ProgramRun> runs);

}  // namespace provecut::placing
