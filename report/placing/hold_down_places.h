// Everything that `place` says: where hold-downs may stand, how those of the job do, and what to do about it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "parser/job/job.h"
#include "report/facts/facts.h"
#include "report/facts/finding.h"
#include "report/placing/free_places.h"
#include "sim/holes/old_hole.h"
#include "sim/placing/hold_down_plan.h"

namespace provecut {

struct FreePlaces {
  int program = 0, form = 0;
  placing::FreeRegion region;  // of the form's centre
  double stock_share = 0;      // of the stock's area that is free
};

// One hold-down where the job has it, against one program.
struct Standing {
  int hold_down = 0;
  bool fitted = false;  // the job lists it for this program
  bool hit = false;
  double clearance_mm = -1;  // below 0: it is as much as wanted, or more
  bool clear() const { return !hit && clearance_mm < 0; }
};

struct NearestPlace {
  int setup = 0, hold_down = 0;
  std::optional<SetupPoint2> at;  // nothing: there is none within 150 mm
};

// Spots to choose from for a form.
struct SpotsFor {
  int setup = 0, form = 0;
  std::vector<int> programs;  // of the setup, for which they are clear: all of them, or one where those leave none
  std::vector<SetupPoint2> at;
};

// A program for which no listed hold-down has a free spot.
struct HeldOtherwise {
  int program = 0;
  HoldDown by;                  // a usual screw
  std::vector<SetupPoint2> at;  // where it can go; nothing: only what lies under the stock can hold it
};

// What changes on the bed before a program starts.
struct Step {
  enum class Kind { fit, remove, move, leave_out };  // leave_out: listed, but no spot is free and it is not there yet
  Kind kind = Kind::fit;
  int hold_down = 0;
  SetupPoint2 at;         // fit, move
  bool as_listed = true;  // false: other than the job file has it
};

// A screw inside an outline that a program cuts: it leaves a hole in a part or in an offcut.
struct InPart {
  int setup = 0, hold_down = 0, program = 0;
};

struct Places {
  const Facts* facts = nullptr;
  double resolution_mm = 0;
  std::vector<PlaceForm> forms;
  std::vector<FreePlaces> free;                 // by program, then by form
  std::vector<std::vector<Standing>> standing;  // per program, the hold-downs that its setup lists anywhere
  std::vector<NearestPlace> nearest;            // of those fitted that are hit or too close
  std::vector<SpotsFor> spots;
  std::vector<placing::PlannedStay> plan;
  std::vector<HeldOtherwise> held_otherwise;  // programs for which the plan has nothing that holds
  std::vector<std::vector<Step>> steps;       // per program
  std::vector<holes::OldHole> old_holes;
  std::vector<InPart> in_parts;
  std::vector<Finding> findings;  // of the rules about pins, screws and their holes
  std::vector<std::string> not_checked;
};

struct PlaceAsked {
  std::optional<HoldDown> form;  // nothing: those of the job, or a usual screw where it has none
  double resolution_mm = 1;
};

// `facts` as read without a cut; what the rules need is added to its Run.
Places holdDownPlaces(Facts& facts, const PlaceAsked& asked);

// "no spot is free for any of its hold-downs. Hold it by tape …"
std::string heldOtherwiseText(const Job& job, const HeldOtherwise& held);

}  // namespace provecut
