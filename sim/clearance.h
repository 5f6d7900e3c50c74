// Every move against every hold-down that stands: which part of the tool touches it, where first, how deep;
// or how near it passes. Exact, without regard to the voxels.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "sim/observation.h"
#include "sim/obstacle.h"
#include "sim/path.h"

namespace provecut {

struct PartTouch {
  ToolPart part = ToolPart::cutter;
  int carried = -1;
  Vec3 entry;  // tip at the first contact, lying frame
  double overlap_mm =
      0;  // radius at the meeting height less the signed distance axis to footprint, the largest
};

struct PartNear {
  ToolPart part = ToolPart::cutter;
  int carried = -1;
  Vec3 at;  // tip at the nearest moment, lying frame
  double clearance_mm = 0;
};

struct Approach {
  std::vector<PartTouch> touches;  // one per part of the tool that comes within contact_tolerance_mm
  std::optional<PartNear> near;    // without a touch: the nearest part, where nearer than `wanted`
};

Approach approach(const Path& path, const ToolBody& body, const Obstacle& o, double wanted_mm);

// The way of one move as far as it can be known, in the lying frame (`shift`: the setup's work zero there). A
// path without pieces is not looked at:
//  - dwells; moves whose start and end are both at an unknown height (top of the travel): taken as clear;
//  - a rapid whose start is not known comes from somewhere else than it seems to, so only its end is looked
//  at (on the
//    way straight down to it nothing is nearer), and not even that while `place_known` is false.
// A feed move without a known start is taken from where the interpreter puts it, over the work zero.
Path knownPath(const Motion& motion, bool place_known, Vec3 shift, const Machine& machine);

// Index of the first motion after which the tool's X and Y are known: one that moved it in X or Y, or whose
// start is known.
std::size_t placeKnownFrom(const Program& program);

struct StandingHoldDown {
  int index = 0;  // into Job::hold_downs
  Obstacle obstacle;
};

// What stands on or beside the blank while a program runs. Tape lies under the blank and is no obstacle.
std::vector<StandingHoldDown> standing(const Job& job, const Setup& setup, const ProgramEntry& entry);

// Adds a Contact for every move, hold-down and part of the tool that touch, and a NearPass for every move and
// hold-down that come nearer than limits.clearance without touching; both in the order of the moves. Dwells,
// and moves with a tool that the job does not define, are left out.
void checkHoldDowns(const Job& job, const Setup& setup, const ProgramEntry& entry, const Program& program,
                    std::vector<Contact>& contacts, std::vector<NearPass>& near_passes);

}  // namespace provecut
