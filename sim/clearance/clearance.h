// Every move against every hold-down that stands: which part of the tool touches it, where first, how deep;
// or how near it passes. Exact, without regard to the voxels.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/clearance/obstacle.h"
#include "sim/observed/contacts.h"
#include "sim/path/path.h"

namespace provecut::clearance {

struct PartTouch {
  ToolPart part = ToolPart::cutter;
  int attachment = -1;
  SetupPoint entry;       // tip at the first contact
  double overlap_mm = 0;  // radius at the meeting height less the signed distance axis to footprint, the largest
};

struct PartNear {
  ToolPart part = ToolPart::cutter;
  int attachment = -1;
  SetupPoint at;  // tip at the nearest moment
  double clearance_mm = 0;
};

struct Approach {
  std::vector<PartTouch> touches;  // one per part of the tool that comes within contact_tolerance_mm
  std::optional<PartNear> near;    // without a touch: the nearest part, where nearer than `wanted`
};

Approach approach(const Path& path, const ToolBody& body, const Obstacle& o, double wanted_mm);

// The shortest distance alone, mm; where it is above `enough` any lower bound above that.
double leastGap(const Path& path, const ToolBody& body, const Obstacle& o, double enough);

// How much of a move's way is known.
enum class Way : std::uint8_t { whole, end_only, none };

// One per motion.
//  - A move that stays at an unknown height (top of the travel) is taken as clear: none. So are dwells.
//  - A rapid whose start is not known comes from somewhere else than it seems to. Where it moves an axis that
//  was not
//    known before, only its end is looked at (on the way straight down to it nothing is nearer); and not even
//    that while neither X nor Y is known.
//  - A feed move whose start is not known is looked at whole, from where the interpreter puts it: such a
//  program counts
//    on starting over the work zero.
std::vector<Way> knownWays(const Program& program);

// The path that is looked at; `work_zero`: Setup::zero_mm. No pieces for Way::none.
Path knownPath(const Motion& motion, Way way, SetupPoint work_zero, const Machine& machine);

struct StandingHoldDown {
  int index = 0;  // into Job::hold_downs
  Obstacle obstacle;
};

// What stands on or beside the stock while a program runs. Tape lies under the stock and is no obstacle.
std::vector<StandingHoldDown> standing(const Job& job, const Setup& setup, const ProgramEntry& entry);

// Adds a Contact for every move, hold-down and part of the tool that touch, and a NearPass for every move and
// hold-down that come nearer than limits.clearance without touching; both in the order of the moves. Dwells,
// and moves with a tool that the job does not define, are left out.
void checkHoldDowns(const Job& job, const Setup& setup, const ProgramEntry& entry, const Program& program,
                    std::vector<Contact>& contacts, std::vector<NearPass>& near_passes);

// Adds a Contact for every move and tape under the stock that touch: the tool goes at least a hundredth of a millimetre
// below the stock's underside there.
void checkTape(const Job& job, const Setup& setup, const ProgramEntry& entry, const Program& program,
               std::vector<Contact>& contacts);

}  // namespace provecut::clearance
