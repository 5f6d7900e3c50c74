// Moves in machine coordinates: G53, G28, G30.
#include <algorithm>

#include "parser/base/parallel_frames.h"
#include "parser/interpreter/moves.h"
#include "parser/interpreter/steps.h"
#include "parser/program/plane_axes.h"
#include "parser/program/problem_ids.h"

namespace provecut::interpreter {

namespace {

struct MachineMove {
  MachinePoint to;
  std::array<bool, 3> named{};
};

// A Z so far below the machine's own zero is no retract.
constexpr double highest_plunge_mm = -10;

// What there is to do about a move whose end is not known: nothing where it only goes up, or sideways from the top.
void noteMoveSomewhere(const InterpreterOptions& options, const MachineState& machine, Sink& sink,
                       const MachineMove& move, Place place) {
  const bool sideways = move.named[0] || move.named[1];
  const bool at_top = machine.known[2] && machine.position.z >= options.top_of_travel_mm;
  if (move.named[2] && move.to.z < highest_plunge_mm) {
    addProblemOnce(sink, ProblemKind::machine_move_in_z, place, {fact::Length{move.to.z}});
  } else if (sideways && !at_top) {
    addProblemOnce(sink, move.named[2] ? ProblemKind::machine_move_in_all : ProblemKind::machine_move_in_xy, place,
                   {fact::Axes{move.named[0], move.named[1], false}});
  }
}

// Without the work zero's place in the machine: Z goes to the top of the travel, X and Y go to an unknown place.
void moveSomewhere(const InterpreterOptions& options, MachineState& machine, Sink& sink, MotionKind kind,
                   std::array<bool, 3> named, Place place) {
  const bool sideways = named[0] || named[1];
  WorkPoint end = machine.position;
  if (named[2]) {
    end.z = std::max(end.z, options.top_of_travel_mm);
    machine.known[2] = true;
  }
  addMove(machine, sink, kind, end, place, motion_machine_frame | motion_height_unknown);
  if (named[0]) machine.known[0] = false;
  if (named[1]) machine.known[1] = false;
  // What leans on a place that is lost only now is a new matter.
  if (sideways) sayAgain(sink, ProblemKind::cut_at_unknown_place);
  machine.start_known = machine.known;
}

void moveInMachine(const InterpreterOptions& options, MachineState& machine, Sink& sink, MotionKind kind,
                   const MachineMove& move, Place place) {
  if (!options.zero_in_machine) {
    noteMoveSomewhere(options, machine, sink, move, place);
    moveSomewhere(options, machine, sink, kind, move.named, place);
    return;
  }
  WorkPoint end = machine.position;
  const WorkPoint there = machineToWork(*options.zero_in_machine, move.to);
  for (const std::size_t axis : all_axes) {
    if (!move.named[axis]) continue;
    component(end, axis) = component(there, axis);
    machine.known[axis] = true;
  }
  addMove(machine, sink, kind, end, place, motion_machine_frame);
}

}  // namespace

void runHoming(const InterpreterOptions& options, MachineState& machine, Sink& sink, Place place) {
  if (options.zero_in_machine) {
    moveInMachine(options, machine, sink, MotionKind::rapid, {{}, {false, false, true}}, place);
    moveInMachine(options, machine, sink, MotionKind::rapid, {{}, {true, true, false}}, place);
  } else {
    moveSomewhere(options, machine, sink, MotionKind::rapid, {true, true, true}, place);
  }
}

// NISTIR 6556 3.5.8: by way of the point named, then home. By common practice only the axes named go home; by the
// standard all do.
void runReferenceReturn(const Input& input, Line& line, MachineState& machine, Sink& sink, int code, Place place) {
  LineWords& w = line.words;
  w.used |= axis_letters;
  MachineMove home{{}, {true, true, true}};
  if (line.homed != std::array<bool, 3>{}) {
    home.named = line.homed;
  } else if (w.hasAny(axis_letters)) {
    if (!sink.strict) home.named = {w.has('X'), w.has('Y'), w.has('Z')};
    noteIncrements(w, machine, sink, place);
    useAxisWords(w, machine, sink);
    const WorkPoint point = targetOf(w, machine);
    // A point that is the present place, as in G91 G28 Z0, makes no move.
    if (point != machine.position) addMove(machine, sink, MotionKind::rapid, point, place);
  }
  const int first = code == 280 ? 5161 : 5181;
  const ParameterTable& p = machine.parameters;
  const double unit = machine.modal.unit();
  sink.resuming.use(modeSet(Mode::units));
  for (int i = first; i < first + 3; ++i) sink.resuming.useParameter(i, p.get(i));
  home.to = {p.get(first) * unit, p.get(first + 1) * unit, p.get(first + 2) * unit};
  // "G28 G0.0": where the slip is told, the way that it leads to is no second thing to tell.
  if (!w.hasAny(axis_letters) && line.homed == std::array<bool, 3>{} && w.decimal_code) {
    addProblem(sink, ProblemKind::axis_typed_as_code, placeOf(line, *w.decimal_code),
               {codeOf(line, *w.decimal_code), codeOf(line, w.code(GGroup::non_modal))});
    if (!input.options.zero_in_machine)
      return moveSomewhere(input.options, machine, sink, MotionKind::rapid, home.named, place);
  }
  moveInMachine(input.options, machine, sink, MotionKind::rapid, home, place);
  // Where a way home has been told, its letters without numbers are no second thing to tell.
  if (line.homed != std::array<bool, 3>{} &&
      !sink.tally.said_once.contains(idOf(ProblemKind::machine_move_in_xy, sink.strict)))
    addProblemOnce(sink, ProblemKind::homing, line.homed_place, {textOf(line, wholeLine(line))});
}

void runMachineMove(const Input& input, Line& line, MachineState& machine, Sink& sink, MotionKind kind, Place place) {
  LineWords& w = line.words;
  w.used |= axis_letters;
  sink.resuming.use(modeSet(Mode::units));
  MachineMove move;
  for (const std::size_t axis : all_axes) {
    const char letter = axis_letter[axis];
    if (!w.has(letter)) continue;
    move.named[axis] = true;
    component(move.to, axis) = w.value(letter) * machine.modal.unit();
  }
  moveInMachine(input.options, machine, sink, kind, move, place);
}

}  // namespace provecut::interpreter
