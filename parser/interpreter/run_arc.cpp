// G2 and G3 (NISTIR 6556 3.5.3).
#include <cmath>
#include <numbers>

#include "parser/interpreter/cutter_compensation.h"
#include "parser/interpreter/moves.h"
#include "parser/interpreter/steps.h"
#include "parser/program/arc.h"
#include "parser/program/plane_axes.h"

namespace provecut::interpreter {

namespace {

constexpr double max_turns = 1000;
constexpr double nearly_full_deg = 345;  // by radius; common practice, no source

struct ArcWords {
  bool clockwise;
  Place place;
  PlaneAxes axes;
  int turns = 1;
  bool by_radius = false;
  WorkPoint end3{};
  WorkPoint2 start{}, end{};  // in the plane's axes
};

// Three or four decimals in a file do not keep the standard's tolerance for large or chained arcs, so that the usual
// reading allows more (common practice, no source).
double radiusTolerance(const MachineState& machine, bool strict, double radius) {
  const double standard = machine.modal.tolerance_mm();
  return strict ? standard : std::fmax(standard, 0.01 + 0.001 * radius);
}

bool firstCompensated(const MachineState& machine) {
  return machine.compensation.side != 0 && !machine.compensation.entered;
}

void followStraight(MachineState& machine, Sink& sink, const ArcWords& a) {
  if (machine.compensation.side != 0) {
    compensatedLine(machine, sink, MotionKind::feed, a.end3, a.place);
  } else {
    addMove(machine, sink, MotionKind::feed, a.end3, a.place);
  }
}

// True if rounding alone can part the end from the start: a whole circle, or all but the last hundredth of a turn of
// one.
bool isWholeCircle(const MachineState& machine, const ArcWords& a, WorkPoint2 centre) {
  const double chord = length(a.end - a.start);
  if (chord == 0) return true;
  const Vec2 from = a.start - centre, to = a.end - centre;
  const double back = std::atan2(cross(from, to), dot(from, to)) * (a.clockwise ? 1 : -1);
  return chord <= machine.modal.tolerance_mm() && back > 0 && back < 2 * std::numbers::pi / 100;
}

// A whole circle after a short arc about the same centre: rounding put the end of a tiny arc on or behind its start.
void doubtWholeCircle(const MachineState& machine, Sink& sink, const ArcWords& a, WorkPoint2 centre) {
  if (sink.program.motions.empty() || !isWholeCircle(machine, a, centre)) return;
  const Motion& before = sink.program.motions.back();
  const bool neighbour = isArc(before) && before.plane == machine.modal.plane && before.start.z == before.end.z &&
                         length(before.centre - centre) < 0.01 && before.start != before.end;
  const std::size_t normal = a.axes.normal;
  if (!neighbour || sweepOf(before) > 0.5 || component(a.end3, normal) != component(machine.position, normal)) return;
  const double chord = length(a.end - a.start);
  if (chord == 0) {
    addProblem(sink, ProblemKind::tiny_arc_ends_at_start, a.place);
  } else {
    addProblem(sink, ProblemKind::tiny_arc_ends_behind_start, a.place, {fact::Length{chord}});
  }
}

void followArc(MachineState& machine, Sink& sink, const ArcWords& a, WorkPoint2 centre) {
  noteUse(sink, "arcs", a.place);
  doubtWholeCircle(machine, sink, a, centre);
  if (machine.compensation.side != 0) {
    compensatedArc(machine, sink, {a.clockwise, a.by_radius, a.turns, a.end3, centre}, a.place);
  } else {
    addArc(machine, sink, a.clockwise, a.end3, centre, a.turns, a.place);
  }
}

int turnsOf(Line& line, Sink& sink) {
  LineWords& w = line.words;
  if (!w.has('P') || sink.strict) return 1;
  w.used |= LineWords::bit('P');
  const double p = w.value('P');
  if (p >= 1 && p <= max_turns && p == std::floor(p)) return static_cast<int>(p);
  addProblem(sink, ProblemKind::turns_faulty, placeOf(line, w.word('P')), {textOf(line, w.word('P'))});
  return 1;
}

double sweepDeg(double chord, double radius) {
  const double short_way = 2 * std::asin(std::fmin(1, chord / (2 * std::abs(radius)))) * 180 / std::numbers::pi;
  return radius < 0 ? 360 - short_way : short_way;
}

void byRadius(const Line& line, MachineState& machine, Sink& sink, const ArcWords& a) {
  const Place word = placeOf(line, line.words.word('R'));
  const double radius = line.words.value('R') * machine.modal.unit();
  const double chord = length(a.end - a.start);
  if (radius == 0 || chord < same_point_mm) {
    addProblem(sink, radius == 0 ? ProblemKind::arc_radius_zero : ProblemKind::arc_by_radius_ends_at_start, word);
    followStraight(machine, sink, a);
    return;
  }
  const auto found = firstCompensated(machine)
                         ? firstArcCentre(machine.compensation, a.start, a.end, radius, a.clockwise)
                         : centreFromRadius(a.start, a.end, radius, a.clockwise);
  const double size = std::abs(radius);
  if (found->shortfall > radiusTolerance(machine, sink.strict, size)) {
    addProblem(sink, ProblemKind::arc_radius_too_short, word,
               {fact::Length{size}, fact::Length{size + found->shortfall}});
  } else if (sweepDeg(chord, radius) > nearly_full_deg) {
    // NISTIR 6556 3.5.3.1 calls it bad practice; near half circles are so common that they are not spoken of.
    addProblem(sink, ProblemKind::arc_by_radius_nearly_full, word);
  }
  followArc(machine, sink, a, found->centre);
}

// The centre as I, J, K give it, or as they would in the other way of reading them.
WorkPoint2 centreOf(const LineWords& w, const MachineState& machine, const ArcWords& a, bool absolute) {
  const Vec3 shift = machine.offsets.shift();
  const auto coordinate = [&](std::size_t axis, double start) {
    const char letter = centre_letter[axis];
    if (!w.has(letter)) return start;
    const double value = w.value(letter) * machine.modal.unit();
    return absolute ? value + component(shift, axis) : start + value;
  };
  return {coordinate(a.axes.first, a.start.x), coordinate(a.axes.second, a.start.y)};
}

ProblemKind radiiDiffer(const LineWords& w, const MachineState& machine, bool strict, const ArcWords& a) {
  const bool absolute = machine.modal.arc_centre_absolute;
  const WorkPoint2 other = centreOf(w, machine, a, !absolute);
  const double radius = length(a.start - other);
  const bool agree = radius > 0 && std::abs(radius - length(a.end - other)) <= radiusTolerance(machine, strict, radius);
  if (!agree) return ProblemKind::arc_radii_differ;
  return absolute ? ProblemKind::arc_radii_differ_unless_incremental : ProblemKind::arc_radii_differ_unless_absolute;
}

void byCentre(const Line& line, MachineState& machine, Sink& sink, const ArcWords& a) {
  const WorkPoint2 centre = centreOf(line.words, machine, a, machine.modal.arc_centre_absolute);
  const double at_start = length(a.start - centre), at_end = length(a.end - centre);
  if (at_start < 1e-9) {
    addProblem(sink, ProblemKind::arc_centre_at_start, a.place);
    followStraight(machine, sink, a);
    return;
  }
  if (std::abs(at_start - at_end) > radiusTolerance(machine, sink.strict, at_start) && !firstCompensated(machine)) {
    addProblem(sink, radiiDiffer(line.words, machine, sink.strict, a), a.place,
               {fact::Length{at_start}, fact::Length{at_end}});
  }
  followArc(machine, sink, a, centre);
}

void useCentreWords(const MachineState& machine, Sink& sink, const PlaneAxes& axes) {
  sink.resuming.use(modeSet(Mode::arc_centre));
  if (!machine.modal.arc_centre_absolute) return;
  useZero(machine, sink, axes.first);
  useZero(machine, sink, axes.second);
}

}  // namespace

void runArc(Line& line, MachineState& machine, Sink& sink, bool clockwise, Place place) {
  LineWords& w = line.words;
  const PlaneAxes axes = axesOf(machine.modal.plane);
  const std::uint32_t plane_ends = LineWords::bits(axis_letter[axes.first], axis_letter[axes.second]);
  const std::uint32_t plane_centres = LineWords::bits(centre_letter[axes.first], centre_letter[axes.second]);
  w.used |= axis_letters | plane_centres | LineWords::bit('R');
  if (machine.modal.inverse_time && !w.has('F')) addProblem(sink, ProblemKind::feed_missing_inverse_time, place);
  ArcWords a{clockwise, place, axes, turnsOf(line, sink), w.has('R')};
  a.start = inPlane(programmedPoint(machine), axes);
  noteIncrements(w, machine, sink, place);
  useAxisWords(w, machine, sink);
  sink.resuming.use(modeSet(Mode::units, Mode::plane));
  a.end3 = targetOf(w, machine);
  a.end = inPlane(a.end3, axes);
  if (!w.hasAny(plane_ends)) addProblem(sink, ProblemKind::arc_without_end, place);
  if (a.by_radius) {
    if (w.hasAny(centre_letters)) {
      addProblem(sink, ProblemKind::arc_with_radius_and_centre, placeOf(line, w.word('R')));
      w.used |= centre_letters;
    }
    byRadius(line, machine, sink, a);
  } else if (w.hasAny(plane_centres)) {
    useCentreWords(machine, sink, axes);
    byCentre(line, machine, sink, a);
  } else {
    addNotFollowed(sink, ProblemKind::arc_without_centre, place);
    followStraight(machine, sink, a);
  }
}

}  // namespace provecut::interpreter
