#include "parser/interpreter/moves.h"
#include "parser/interpreter/steps.h"
#include "parser/program/plane_axes.h"

namespace provecut::interpreter {

// G38.2 (NISTIR 6556 3.5.9). Where the probe touches is known at the machine only: coming straight down it is taken to
// touch at the height the options give, else at its end.
void runProbe(const Input& input, Line& line, MachineState& machine, Sink& sink, Place place) {
  constexpr double shortest_mm = 0.254;  // or 0.01 in: the same length
  LineWords& w = line.words;
  w.used |= axis_letters;
  if (machine.compensation.side != 0) addProblem(sink, ProblemKind::probe_under_compensation, place);
  if (machine.modal.inverse_time) addProblem(sink, ProblemKind::probe_under_inverse_time, place);
  if (w.hasAny(rotary_letters)) addProblem(sink, ProblemKind::probe_turns_axis, place);
  machine.compensation = {};
  const WorkPoint start = machine.position;
  useAxisWords(w, machine, sink);
  WorkPoint end = targetOf(w, machine);
  if (length(end - start) < shortest_mm - 1e-9) addProblem(sink, ProblemKind::probe_too_short, place);
  const double touch = input.options.probe_touch_mm;
  if (flat(end) == flat(start) && end.z <= touch && touch <= start.z) {
    end.z = touch;
    addProblemOnce(sink, ProblemKind::probe_touches_at, place, {fact::Length{touch}});
  } else {
    addProblemOnce(sink, ProblemKind::probe_reaches_end, place);
  }
  addMove(machine, sink, MotionKind::probe, end, place);
  const Vec3 shift = machine.offsets.shift();
  for (const std::size_t axis : all_axes) {
    const double program = component(end, axis) - component(shift, axis);
    const int number = probe_parameter + static_cast<int>(axis);
    machine.parameters.set(number, program / machine.modal.unit());
    sink.resuming.setParameter(number);
  }
}

}  // namespace provecut::interpreter
