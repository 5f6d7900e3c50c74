#include "parser/base/quoted_text.h"
#include "parser/interpreter/reading.h"
#include "parser/program/plane_axes.h"

namespace provecut::interpreter {

// G38.2 (NISTIR 6556 3.5.9). Where the probe touches is known at the machine only: coming straight down it is taken to
// touch at the height the options give, else at its end.
void runProbe(Reading& r, Place place) {
  LineWords& w = r.line_words;
  w.used |= axis_letters;
  const auto refuse = [&](const char* why) {
    addProblem(r, "probe-faulty", place, why, "The move is followed to its end.");
  };
  if (r.compensation.side != 0) refuse("G38.2 must not stand while cutter radius compensation is on.");
  if (r.state.inverse_time) refuse("G38.2 must not stand under G93.");
  if (w.hasAny(rotary_letters)) refuse("G38.2 must not turn a rotary axis.");
  r.compensation = {};
  const WorkPoint start = r.position;
  WorkPoint end = targetOf(r);
  // 0.254 mm or 0.01 in: the same length.
  if (length(end - start) < 0.254 - 1e-9) refuse("G38.2 needs a way of at least 0.254 mm (0.01 in).");
  const double touch = r.options.probe_touch_mm;
  const bool down = flat(end) == flat(start) && end.z <= touch && touch <= start.z;
  if (down) end.z = touch;
  addProblemOnce(
      r, "probe-assumed", place, "A probing move stops where the probe touches.",
      down ? "It is taken to touch at Z " + shownNumber(touch) + " of the job." : "It is taken to reach its end.");
  addMotion(r, MotionKind::probe, end, place);
  for (int axis = 0; axis < 3; ++axis) {
    const double program = component(end, axis) - component(r.origin, axis) - component(r.g92, axis);
    r.parameters.set(5061 + axis, program / r.state.unit());
  }
}

}  // namespace provecut::interpreter
