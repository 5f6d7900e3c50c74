// What the simulation saw of each program and of the job: facts with numbers, no opinions.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/observed/clear_spot.h"
#include "sim/observed/contacts.h"
#include "sim/observed/holes.h"
#include "sim/observed/load.h"
#include "sim/observed/move_cut.h"
#include "sim/observed/pieces.h"
#include "sim/observed/time_spent.h"

namespace provecut {

struct ProgramRun {
  int setup = 0;
  int entry = 0;                       // index into Setup::programs
  std::vector<MoveCut> cuts;           // one per motion
  std::vector<MoveLoad> loads;         // one per motion
  std::vector<Contact> contacts;       // by move
  std::vector<NearPass> near_passes;   // by move
  std::vector<Contact> tape_contacts;  // of the cutter with tape under the stock, by move
  std::vector<BodyInStock> bodies_in_stock;
  std::vector<ThinFloor> thin_floors;
  std::vector<DoubtfulThrough> doubtful_throughs;
  std::vector<Sliver> slivers;
  std::vector<BrokenThrough> broken_through;
  std::vector<Piece> pieces;
  std::vector<StillAttached> still_attached;
  std::vector<CutInTabbed> cuts_in_tabbed;
  std::vector<PieceHeld> holding;    // as the program ends
  std::optional<OpenedHole> opened;  // only of programs with through = false
  WorkBox bounds;                    // of the moves, the unknown heights left out
  double deepest_below_top_mm = 0;
  double removed_mm3 = 0;
  double feed_mm = 0, rapid_mm = 0;
  TimeSpent time, time_low, time_high;
  double change_before_s = 0;  // in `time`: the tool is changed by hand between the program before and this one
};

struct Run {
  std::vector<ProgramRun> programs;  // in the order of the job
  std::vector<ClearSpot> clear_spots;
  std::vector<PinFit> pin_fits;
  std::vector<PinsElsewhere> pins_shifted, pins_either_way;
  std::vector<PinsFlipped> pins_flipped;
  std::vector<ScrewSeat> screw_seats;
  std::vector<HoleInPath> holes_in_path;
  std::vector<HolePair> hole_pairs;
  StockState stock;
  std::vector<std::string> not_checked;  // what could not be computed and why
};

}  // namespace provecut
