// What several rules measure on the facts. Heights are in work coordinates, mm.
#pragma once

#include <cstddef>
#include <span>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "report/facts/facts.h"
#include "sim/observed/load.h"
#include "sim/observed/move_cut.h"

namespace provecut {

// False where programs were given without a job file: then nothing is known of the machine, and what rests on it is not
// judged.
bool machineKnown(const Facts& facts);

// The hold-downs that stand while a program runs.
std::span<const int> standing(const ProgramFacts& program);

// Top of the stock, of a standing hold-down, and the spoilboard's surface in work coordinates, mm.
double stockTopZ(const Facts& facts, const Setup& setup);
double holdDownTopZ(const Facts& facts, const Setup& setup, const HoldDown& hold_down);
double spoilboardZ(const Setup& setup);

// The highest that stands while the program runs: a hold-down (tape left out), or the stock where none is higher.
struct Highest {
  double z = 0;
  const HoldDown* hold_down = nullptr;  // null: the stock's top
};
Highest highestStanding(const Facts& facts, const ProgramFacts& program);

// True where the point is over the stock, its edges left out.
bool overStock(const Facts& facts, const Setup& setup, WorkPoint p);

// What the move took from the stock; nothing where the simulation did not get there.
MoveCut cutOf(const Facts& facts, std::size_t program, std::size_t move);

// How hard the move worked its cutter; nothing where the simulation did not get there.
MoveLoad loadOf(const Facts& facts, std::size_t program, std::size_t move);

// How long a move with a load takes at the speed that it reaches.
double moveSeconds(const Facts& facts, const Motion& motion, const MoveLoad& load);

// Bites below this are rounding of the height field, not material.
inline constexpr float least_bite_mm = 0.001f;
inline bool cutsMaterial(const MoveCut& cut) {
  return cut.bite_mm > least_bite_mm && cut.removed_mm3 > 0;
}

// Degrees below the horizontal at which a straight move or a helix about Z goes down: 90 for straight down, 0 for one
// that does not. Other arcs and dwells count as 0.
double descentDeg(const Motion& motion);

// A move with some way in the horizontal plane; every arc is one.
bool goesSideways(const Motion& motion);

// Where the tip is lowest during the move; its end where its start is not known.
WorkPoint lowestTip(const Motion& motion);

}  // namespace provecut
