#include "parser/interpreter/moves.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "parser/program/arc.h"
#include "parser/program/plane_axes.h"

namespace provecut::interpreter {

namespace {

std::uint16_t saturated(std::uint32_t column) {
  return static_cast<std::uint16_t>(std::min<std::uint32_t>(column, std::numeric_limits<std::uint16_t>::max()));
}

// What a move relies on though the program did not set it.
void noteModalUse(const MachineState& machine, Sink& sink, const Motion& m) {
  ModalUse& use = sink.program.modal;
  // The way to a place in machine coordinates asks for neither; what their words rest on is noted with these.
  if (m.flags & motion_machine_frame) return;
  (machine.modal.inch ? use.ever_inch : use.ever_mm) = true;
  use.ever_incremental |= machine.modal.incremental;
  if (!use.any_move) use.first_incremental = machine.modal.incremental;
  use.any_move = true;
  use.ever_other_plane |= machine.modal.plane != Plane::xy;
  const bool plane_matters = isArc(m) || machine.cycle.running;
  if (use.units_set && use.distance_set && (use.plane_set || !plane_matters)) return;
  if (use.first_use.line == 0) use.first_use = placeOf(m);
  use.units_used |= !use.units_set;
  use.distance_used |= !use.distance_set;
  use.plane_used |= plane_matters && !use.plane_set;
}

// Moves along an axis whose position is not known.
bool isApproach(const AxesKnown& known, const WorkPoint& start, const WorkPoint& end) {
  return std::any_of(all_axes.begin(), all_axes.end(),
                     [&](std::size_t axis) { return !known[axis] && component(start, axis) != component(end, axis); });
}

// A feed move with X or Y unknown, or sideways at a height that is lost. Below the work zero it cuts. Above it, going
// down may be all that it does: that is compared with the program's rapids in the end, which do not cut. Across at the
// first height named is how programs without rapids begin.
void noteFeedFromUnknown(const MachineState& machine, Sink& sink, const Motion& m, Place place) {
  if (m.kind == MotionKind::probe) return;
  const double low = std::min(m.start.z, m.end.z);
  const AxesKnown& known = machine.start_known;
  const bool height_lost = machine.lost[2] && !known[2] && m.start.z == m.end.z;
  const fact::Axes unknown{!known[0], !known[1], height_lost};
  if (height_lost || ((unknown.x || unknown.y) && (low < 0 || isArc(m)))) {
    addProblemOnce(sink, ProblemKind::cut_at_unknown_place, place, {unknown});
  } else if ((unknown.x || unknown.y) && known[2] && m.end.z < m.start.z && low < sink.moves.lowest_unknown_feed_mm) {
    sink.moves.lowest_unknown_feed_mm = low;
    sink.moves.unknown_axes = unknown;
    sink.moves.unknown_feed = place;
  }
}

unsigned commonFlags(const MachineState& machine) {
  unsigned flags = 0;
  if (machine.cycle.running) flags |= motion_in_cycle;
  if (machine.in_subprogram) flags |= motion_in_subprogram;
  if (!startKnown(machine)) flags |= motion_start_unknown;
  return flags;
}

// A motion that stays where the tool is.
Motion motionFrom(const MachineState& machine, MotionKind kind, Place place) {
  Motion m;
  m.start = m.end = machine.position;
  m.line = place.line;
  m.column = saturated(place.column);
  m.end_column = saturated(place.end_column);
  m.tool = machine.modal.tool;
  m.kind = kind;
  m.plane = machine.modal.plane;
  m.spindle = machine.modal.spindle;
  m.rpm = static_cast<float>(machine.modal.rpm);
  return m;
}

// Why the move can have no feed.
std::optional<ProblemKind> feedFault(const ModalState& modal) {
  if (modal.feed == 0) return ProblemKind::feed_zero;
  if (modal.feed < 0) return ProblemKind::feed_unset;
  if (modal.feed_per_turn && modal.rpm <= 0) return ProblemKind::feed_per_turn_without_speed;
  return std::nullopt;
}

double feedOf(const ModalState& modal, const Motion& m) {
  if (modal.feed_per_turn) return modal.feed * modal.unit() * modal.rpm;
  return modal.inverse_time ? modal.feed * pathLength(m) : modal.feed * modal.unit();
}

// Sets the feed of a move that has one, and says what is odd about it.
void feedMotion(MachineState& machine, Sink& sink, Motion& m, Place place) {
  if (const auto fault = feedFault(machine.modal)) {
    m.flags |= motion_feed_unset;
    addProblemOnce(sink, *fault, place);
  } else {
    m.feed_mm_min = static_cast<float>(feedOf(machine.modal, m));
  }
  if (machine.modal.feed_before_tool) {
    machine.modal.feed_before_tool = false;
    machine.cut_at_old_feed = place;
  }
  if (!startKnown(machine)) noteFeedFromUnknown(machine, sink, m, place);
}

void make(MachineState& machine, Sink& sink, Motion& m, Place place, unsigned flags) {
  sink.over_limit = sink.over_limit || sink.program.motions.size() >= sink.max_motions;
  if (sink.over_limit) return;
  flags |= commonFlags(machine);
  if (isApproach(machine.start_known, m.start, m.end)) flags |= motion_approach;
  m.flags = static_cast<std::uint8_t>(flags);
  if (m.kind == MotionKind::rapid) {
    sink.moves.lowest_rapid_mm = std::min(sink.moves.lowest_rapid_mm, m.end.z);
  } else {
    feedMotion(machine, sink, m, place);
  }
  noteModalUse(machine, sink, m);
  sink.resuming.use(modeSet(Mode::path_control, Mode::compensation, Mode::tool));
  if (m.kind != MotionKind::rapid) useCuttingModes(machine, sink);
  sink.program.motions.push_back(m);
  machine.position = m.end;
  machine.start_known = machine.known;
}

}  // namespace

void addMove(MachineState& machine, Sink& sink, MotionKind kind, WorkPoint end, Place place, unsigned flags) {
  Motion m = motionFrom(machine, kind, place);
  m.end = end;
  make(machine, sink, m, place, flags);
}

void addArc(MachineState& machine, Sink& sink, bool clockwise, WorkPoint end, WorkPoint2 centre, int turns,
            Place place) {
  Motion m = motionFrom(machine, clockwise ? MotionKind::arc_cw : MotionKind::arc_ccw, place);
  m.end = end;
  m.centre = centre;
  m.turns = static_cast<std::uint16_t>(turns);
  make(machine, sink, m, place, 0);
}

void addDwell(const MachineState& machine, Sink& sink, double seconds, Place place) {
  if (sink.over_limit) return;
  Motion m = motionFrom(machine, MotionKind::dwell, place);
  m.dwell_s = static_cast<float>(seconds);
  m.flags = static_cast<std::uint8_t>(commonFlags(machine));
  sink.program.motions.push_back(m);
}

WorkPoint programmedPoint(const MachineState& machine) {
  const CompensationState& c = machine.compensation;
  if (c.side == 0 || !c.entered) return machine.position;
  return {c.programmed.x, c.programmed.y, machine.position.z};
}

WorkPoint targetOf(const LineWords& words, MachineState& machine) {
  WorkPoint target = programmedPoint(machine);
  const Vec3 shift = machine.offsets.shift();
  for (const std::size_t axis : all_axes) {
    const char letter = axis_letter[axis];
    if (!words.has(letter)) continue;
    const double value = words.value(letter) * machine.modal.unit();
    if (machine.modal.incremental) {
      component(target, axis) += value;
    } else {
      component(target, axis) = value + component(shift, axis);
      machine.known[axis] = true;
    }
  }
  return target;
}

void useCuttingModes(const MachineState& machine, Sink& sink) {
  sink.resuming.use(modeSet(Mode::feed, Mode::feed_mode, Mode::spindle, Mode::coolant, Mode::overrides));
  if (machine.modal.spindle != Spindle::off || machine.modal.feed_per_turn) sink.resuming.use(modeSet(Mode::speed));
}

void useZero(const MachineState& machine, Sink& sink, std::size_t axis) {
  const WorkOffsets& offsets = machine.offsets;
  sink.resuming.use(modeSet(Mode::work_offset));
  const auto number = [&](int first) { return first + static_cast<int>(axis); };
  if (component(offsets.g92, axis) != 0) sink.resuming.useParameter(number(g92_parameter), 0);
  if (component(offsets.local, axis) != 0) sink.resuming.useParameter(number(local_parameter), 0);
  if (component(offsets.origin, axis) != component(offsets.given, axis))
    sink.resuming.useParameter(number(systems_parameter + 20 * machine.modal.system), 0);
}

void useAxisWords(const LineWords& words, const MachineState& machine, Sink& sink) {
  if (!words.hasAny(axis_letters)) return;
  sink.resuming.use(modeSet(Mode::units, Mode::distance));
  if (machine.modal.incremental) return;
  for (const std::size_t axis : all_axes) {
    if (words.has(axis_letter[axis])) useZero(machine, sink, axis);
  }
  if (words.has('Z')) sink.resuming.use(modeSet(Mode::length_offset));
}

void noteIncrements(const LineWords& words, const MachineState& machine, Sink& sink, Place place) {
  if (!machine.modal.incremental) return;
  const auto unknown = [&](std::size_t axis) {
    const char letter = axis_letter[axis];
    return !machine.known[axis] && words.has(letter) && words.value(letter) != 0;
  };
  const fact::Axes axes{unknown(0), unknown(1), unknown(2)};
  if (!axes.x && !axes.y && !axes.z) return;
  addProblemOnce(sink, ProblemKind::increment_from_unknown_place, place, {fact::Axes{}});
  // The first such line is named, with all the axes: the one that matters may be moved by a later line.
  const auto said = std::find_if(sink.program.problems.begin(), sink.program.problems.end(),
                                 [](const Problem& p) { return p.kind == ProblemKind::increment_from_unknown_place; });
  if (said == sink.program.problems.end()) return;
  auto& all = std::get<fact::Axes>(said->facts.front());
  all = {all.x || axes.x, all.y || axes.y, all.z || axes.z};
}

void reportFeedFromUnknown(Sink& sink) {
  const MoveTally& moves = sink.moves;
  // A program without rapids feeds in the air too.
  if (std::isfinite(moves.lowest_rapid_mm) && moves.lowest_unknown_feed_mm < moves.lowest_rapid_mm)
    addProblemOnce(sink, ProblemKind::cut_at_unknown_place, moves.unknown_feed, {moves.unknown_axes});
}

}  // namespace provecut::interpreter
