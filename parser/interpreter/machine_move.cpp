#include <algorithm>

#include "parser/base/parallel_frames.h"
#include "parser/interpreter/reading.h"
#include "parser/program/plane_axes.h"

namespace provecut::interpreter {

namespace {

void sayUnknown(Reading& r, std::array<bool, 3> named, Place place) {
  const bool sideways = named[0] || named[1];
  const std::string z =
      named[2] ? "Z goes to the top of the travel and is taken as clear there" : "Z stays as high as it is";
  addProblemOnce(r, "machine-move", place,
                 "The line moves in machine coordinates, and where the work zero lies in the machine is not known.",
                 z + (sideways ? "; where X and Y go is not known." : "; X and Y stay."),
                 "Give zero_in_machine in the job file.");
}

void flag(Motion& m, bool height_unknown) {
  m.flags = static_cast<std::uint8_t>(m.flags | motion_machine_frame | (height_unknown ? motion_height_unknown : 0));
}

// To `machine` in the named axes.
void moveInMachine(Reading& r, MotionKind kind, MachinePoint machine, std::array<bool, 3> named, Place place) {
  if (r.options.zero_in_machine) {
    const WorkPoint there = machineToWork(*r.options.zero_in_machine, machine);
    WorkPoint end = r.position;
    for (int axis = 0; axis < 3; ++axis) {
      if (!named[static_cast<std::size_t>(axis)]) continue;
      component(end, axis) = component(there, axis);
      r.known[static_cast<std::size_t>(axis)] = true;
    }
    flag(addMotion(r, kind, end, place), false);
    return;
  }
  sayUnknown(r, named, place);
  WorkPoint end = r.position;
  if (named[2]) {
    end.z = std::max(end.z, r.options.top_of_travel_mm);
    r.known[2] = true;
  }
  flag(addMotion(r, kind, end, place), true);
  if (named[0]) r.known[0] = false;
  if (named[1]) r.known[1] = false;
  // What leans on a place that is lost only now is a new matter.
  if (named[0] || named[1]) r.said_once.erase("position-unknown");
  r.start_known = r.known;
}

}  // namespace

// G28 and G30 (NISTIR 6556 3.5.8): by way of the point named, then home. By common practice only the axes named go
// home; by the standard all do.
void runReferenceReturn(Reading& r, int code, Place place) {
  LineWords& w = r.line_words;
  w.used |= axis_letters;
  const bool any = w.hasAny(axis_letters);
  std::array<bool, 3> named{true, true, true};
  if (any) {
    if (!r.options.strict) named = {w.has('X'), w.has('Y'), w.has('Z')};
    noteIncrements(r, place);
    const WorkPoint point = targetOf(r);
    // A point that is the present place, as in G91 G28 Z0, makes no move.
    if (point != r.position) addMotion(r, MotionKind::rapid, point, place);
  }
  const int first = code == 280 ? 5161 : 5181;
  const double unit = r.state.unit();
  const MachinePoint home{r.parameters.get(first) * unit, r.parameters.get(first + 1) * unit,
                          r.parameters.get(first + 2) * unit};
  moveInMachine(r, MotionKind::rapid, home, named, place);
}

void runMachineMove(Reading& r, MotionKind kind, Place place) {
  LineWords& w = r.line_words;
  w.used |= axis_letters;
  const double unit = r.state.unit();
  MachinePoint machine;
  std::array<bool, 3> named{};
  for (int axis = 0; axis < 3; ++axis) {
    const char letter = axis_letter[axis];
    if (!w.has(letter)) continue;
    named[static_cast<std::size_t>(axis)] = true;
    component(machine, axis) = w.value(letter) * unit;
  }
  moveInMachine(r, kind, machine, named, place);
}

}  // namespace provecut::interpreter
