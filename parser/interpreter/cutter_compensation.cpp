#include "parser/interpreter/cutter_compensation.h"

#include <cmath>
#include <numbers>
#include <optional>
#include <span>

#include "parser/interpreter/expression.h"
#include "parser/interpreter/moves.h"
#include "parser/interpreter/offset_curve.h"

namespace provecut::interpreter {

namespace {

Vec2 leftOf(Vec2 direction) {
  return {-direction.y, direction.x};
}

// Under G93 all motions of a line together take its time (NISTIR 6556 3.5.19).
void shareTime(const CompensationState& c, Sink& sink) {
  if (c.per_minute <= 0 || sink.over_limit) return;
  const std::span<Motion> motions =
      std::span(sink.program.motions).subspan(c.first_motion, c.motion - c.first_motion + 1);
  double way = 0;
  for (const Motion& m : motions) way += pathLength(m);
  for (Motion& m : motions) m.feed_mm_min = static_cast<float>(c.per_minute * way);
}

// Moves the open end of the last move, and all that stands there since, to `at`.
void settle(MachineState& machine, Sink& sink, WorkPoint2 at) {
  CompensationState& c = machine.compensation;
  if (!c.open) return;
  c.open = false;
  const auto put = [&](WorkPoint& point) { point = {at.x, at.y, point.z}; };
  std::vector<Motion>& motions = sink.program.motions;
  for (std::size_t i = c.motion; i < motions.size(); ++i) {
    if (i > c.motion) put(motions[i].start);
    put(motions[i].end);
  }
  shareTime(c, sink);
  put(machine.position);
}

OffsetCurve curveOf(const Motion& m) {
  OffsetCurve curve{flat(m.start), flat(m.end), {}, 0};
  if (isArc(m)) {
    curve.centre = m.centre;
    curve.turn = m.kind == MotionKind::arc_ccw ? 1 : -1;
  }
  return curve;
}

// How deep the tool would go into the corner between two moves if each were made to its end.
double overlap(const CompensationState& c, Vec2 direction) {
  return c.radius_mm * (1 - dot(c.direction, direction));
}

// True if the moves go on smoothly but for what rounding their words does: each end may be off by the tolerance.
bool isSmooth(const MachineState& machine, Vec2 direction, double reach) {
  const CompensationState& c = machine.compensation;
  const double tolerance = machine.modal.tolerance_mm();
  const double kink = std::atan2(std::abs(cross(c.direction, direction)), dot(c.direction, direction));
  return kink <= tolerance * (1 / c.reach_mm + 1 / reach) && overlap(c, direction) <= 2 * tolerance;
}

// The move that follows at a corner.
struct NextMove {
  OffsetCurve curve;  // where the tool would run
  Vec2 direction;     // at its start, unit length
  double reach_mm;    // what that depends on
  WorkPoint2 corner;  // the programmed point where it starts
};

bool isInsideCorner(const CompensationState& c, Vec2 direction) {
  const double turn = cross(c.direction, direction) * c.side;
  return turn > 1e-12 && !(std::abs(turn) < 1e-9 && dot(c.direction, direction) < 0);
}

// Outside corner: around it on an arc of the tool's radius.
void goAround(MachineState& machine, Sink& sink, const NextMove& next, Place place) {
  machine.compensation.open = false;
  const WorkPoint2 to = next.curve.start;
  addArc(machine, sink, machine.compensation.side > 0, {to.x, to.y, machine.position.z}, next.corner, 1, place);
}

// Inside corner: both paths end where they cross. True: the tool stands at the next one's start.
bool cutCorner(MachineState& machine, Sink& sink, const NextMove& next, Place place) {
  CompensationState& c = machine.compensation;
  addProblem(sink, ProblemKind::compensated_inside_corner, place);
  if (c.entry) {
    // The first move only brings the tool to the path: it ends where the next one begins.
    settle(machine, sink, next.curve.start);
    return true;
  }
  if (const auto meeting = meetingPoint(curveOf(sink.program.motions[c.motion]), next.curve, next.corner)) {
    settle(machine, sink, *meeting);
    return false;
  }
  if (overlap(c, next.direction) <= 2 * machine.modal.tolerance_mm()) return true;
  addNotFollowed(sink, ProblemKind::compensated_corner_too_tight, place,
                 {fact::Length{next.corner.x}, fact::Length{next.corner.y}, fact::Length{c.radius_mm}});
  c.open = false;
  const WorkPoint2 to = next.curve.start;
  addMove(machine, sink, MotionKind::feed, {to.x, to.y, machine.position.z}, place);
  return true;
}

// Joins the open move to the next one. Afterwards the tool stands where that begins. True: that is at its curve's start
// but for rounding; false: where the moves cross before it.
bool join(MachineState& machine, Sink& sink, const NextMove& next, Place place) {
  const CompensationState& c = machine.compensation;
  if (!c.open || length(flat(machine.position) - next.curve.start) <= same_point_mm ||
      isSmooth(machine, next.direction, next.reach_mm))
    return true;
  if (isInsideCorner(c, next.direction)) return cutCorner(machine, sink, next, place);
  goAround(machine, sink, next, place);
  return true;
}

// The line's last motion, whose end is open now; `first` is the index of its first.
void openEnd(MachineState& machine, Sink& sink, std::size_t first, Vec2 direction, double reach, bool entry) {
  CompensationState& c = machine.compensation;
  if (sink.over_limit) return;
  c.motion = sink.program.motions.size() - 1;
  c.first_motion = first;
  const bool timed = machine.modal.inverse_time && sink.program.motions[c.motion].kind != MotionKind::rapid;
  c.per_minute = timed ? machine.modal.feed : 0;
  shareTime(c, sink);
  c.open = true;
  c.entry = entry;
  c.direction = direction;
  c.reach_mm = reach;
}

// NISTIR 6556 B.6: right triangle whose hypotenuse goes from the tool to the programmed end, with the tool's radius as
// the leg at that end and the right angle at the tool's new place.
void enterOnLine(MachineState& machine, Sink& sink, MotionKind kind, WorkPoint end, Place place) {
  CompensationState& c = machine.compensation;
  const WorkPoint2 from = flat(machine.position), to = flat(end);
  const double distance = length(to - from);
  c.programmed = to;
  c.entered = true;
  if (distance < c.radius_mm) {
    addNotFollowed(sink, ProblemKind::compensation_entry_too_short, place,
                   {fact::Length{distance}, fact::Length{c.radius_mm}});
    addMove(machine, sink, kind, end, place);
    return;
  }
  const Vec2 along = (to - from) * (1 / distance);
  const double share = c.radius_mm / distance;
  // From the end back along the hypotenuse, then sideways: the leg of the tool's radius.
  const WorkPoint2 centre =
      to - along * (c.radius_mm * share) + leftOf(along) * (c.side * c.radius_mm * std::sqrt(1 - share * share));
  const std::size_t first = sink.program.motions.size();
  addMove(machine, sink, kind, {centre.x, centre.y, end.z}, place);
  const Vec2 travel = centre - from;
  openEnd(machine, sink, first, length(travel) > 0 ? travel * (1 / length(travel)) : along, distance, true);
}

// Radius of the tool's path beside an arc: the tool is inside of a counter-clockwise arc when it runs on the left.
double offsetRadius(const CompensationState& c, double radius, bool clockwise) {
  return radius + (clockwise ? c.side : -c.side) * c.radius_mm;
}

// What an arc's directions depend on. Near a half circle the centre of an arc by R depends on the last decimals of its
// ends.
double arcReach(const MachineState& machine, const ProgrammedArc& arc, WorkPoint2 from) {
  const WorkPoint2 to = flat(arc.end);
  const double radius = length(to - arc.centre);
  if (!arc.by_radius) return radius;
  return std::fmax(length(middle(from, to) - arc.centre), std::sqrt(radius * machine.modal.tolerance_mm() / 2));
}

// How far to turn from one direction to another, counter-clockwise for `turn` 1, clockwise for -1: above 0, 2 pi where
// they agree.
double turnBetween(Vec2 from, Vec2 to, double turn) {
  const double angle = std::atan2(cross(from, to), dot(from, to)) * turn;
  return angle * length(to) <= same_point_mm ? angle + 2 * std::numbers::pi : angle;
}

// The tool whose radius counts: that of D, else the one in the spindle.
int toolOf(Line& line, const MachineState& machine, Sink& sink) {
  LineWords& w = line.words;
  if (!w.has('D')) return machine.modal.tool;
  w.used |= LineWords::bit('D');
  int number = 0;
  if (nearInteger(w.value('D'), number) && number >= 0) return number;
  addProblem(sink, ProblemKind::compensation_tool_faulty, placeOf(line, w.word('D')), {textOf(line, w.word('D'))});
  return machine.modal.tool;
}

// D0 is no tool: the path as written. A D beyond the tools is an offset at the machine, for the tool in the spindle.
double diameterOf(const InterpreterOptions& options, const Line& line, Sink& sink, int tool, int in_spindle,
                  Place place) {
  const LineWords& w = line.words;
  if (tool == 0 && w.has('D')) return 0;
  const std::map<int, double>& diameters = options.tool_diameter_mm;
  if (const auto found = diameters.find(tool); found != diameters.end()) return found->second;
  if (const auto found = diameters.find(in_spindle); found != diameters.end() && !sink.strict) {
    addProblem(sink, ProblemKind::compensation_by_offset, place, {codeOf(line, w.word('D')), fact::Tool{in_spindle}});
    return found->second;
  }
  addNotFollowed(sink, ProblemKind::compensation_diameter_unknown, place, {fact::Tool{tool}});
  return 0;
}

// Straight to where the arc cannot be followed; the path goes on from its end.
void giveUpArc(MachineState& machine, Sink& sink, WorkPoint2 tool_end, const ProgrammedArc& arc, Place place) {
  addMove(machine, sink, MotionKind::feed, {tool_end.x, tool_end.y, arc.end.z}, place);
  machine.compensation.programmed = flat(arc.end);
  machine.compensation.entered = true;
  machine.compensation.open = false;
}

// The compensated arc itself, from where the tool stands. `at_start`: that is where the arc begins, but for rounding.
void runAlongArc(MachineState& machine, Sink& sink, const ProgrammedArc& arc, WorkPoint2 from, WorkPoint2 tool_end,
                 bool at_start, Place place) {
  const double turn = arc.clockwise ? -1 : 1;
  const WorkPoint2 to = flat(arc.end);
  const double wanted = turnBetween(from - arc.centre, to - arc.centre, turn),
               made = turnBetween(flat(machine.position) - arc.centre, to - arc.centre, turn);
  constexpr double half_turn = std::numbers::pi;
  if (at_start && made > wanted + half_turn) {
    // Rounding put the start beyond the end of a tiny arc. That is no whole circle.
    addMove(machine, sink, MotionKind::feed, {tool_end.x, tool_end.y, arc.end.z}, place);
    return;
  }
  const bool whole = at_start && made < wanted - half_turn;
  const WorkPoint2 stop = whole ? flat(machine.position) : tool_end;
  addArc(machine, sink, arc.clockwise, {stop.x, stop.y, arc.end.z}, arc.centre, arc.turns, place);
}

}  // namespace

void switchCompensation(const Input& input, Line& line, MachineState& machine, Sink& sink, int code, Place place) {
  LineWords& w = line.words;
  CompensationState& c = machine.compensation;
  if (code == 400) {
    endCompensation(machine);
    return;
  }
  if (machine.modal.plane != Plane::xy) {
    addNotFollowed(sink, ProblemKind::compensation_off_xy_plane, place);
    w.used |= LineWords::bit('D');
    return;
  }
  const int tool = toolOf(line, machine, sink);
  const double diameter = diameterOf(input.options, line, sink, tool, machine.modal.tool, place);
  const int side = (code == 410) == (diameter >= 0) ? 1 : -1;  // a negative diameter changes the side (B.4)
  const double radius = std::abs(diameter) / 2;
  if (c.side != 0) {
    const bool changes = side != c.side || radius != c.radius_mm;
    addProblem(sink, changes ? ProblemKind::compensation_switched_while_on : ProblemKind::compensation_on_already,
               place);
    if (!changes) return;
  }
  c = {};
  c.side = side;
  c.radius_mm = radius;
}

void endCompensation(MachineState& machine) {
  machine.compensation = {};
}

void compensatedLine(MachineState& machine, Sink& sink, MotionKind kind, WorkPoint end, Place place) {
  CompensationState& c = machine.compensation;
  if (!c.entered) {
    if (flat(end) == flat(machine.position)) {
      addMove(machine, sink, kind, end, place);
      return;
    }
    enterOnLine(machine, sink, kind, end, place);
    return;
  }
  const WorkPoint2 from = c.programmed, to = flat(end);
  const double distance = length(to - from);
  // Along Z only, or so short that rounding gives it its direction: the tool stays beside the same point.
  if (distance <= (c.radius_mm > 0 ? machine.modal.tolerance_mm() : same_point_mm)) {
    const WorkPoint at = machine.position;
    if (distance <= same_point_mm || end.z != at.z) addMove(machine, sink, kind, {at.x, at.y, end.z}, place);
    return;
  }
  const Vec2 direction = (to - from) * (1 / distance);
  const Vec2 aside = leftOf(direction) * (c.side * c.radius_mm);
  const NextMove next{{from + aside, to + aside, {}, 0}, direction, distance, from};
  const std::size_t first = sink.program.motions.size();
  join(machine, sink, next, place);
  addMove(machine, sink, kind, {next.curve.end.x, next.curve.end.y, end.z}, place);
  c.programmed = to;
  openEnd(machine, sink, first, direction, distance, false);
}

void compensatedArc(MachineState& machine, Sink& sink, const ProgrammedArc& arc, Place place) {
  CompensationState& c = machine.compensation;
  const WorkPoint2 to = flat(arc.end), centre = arc.centre;
  const double radius = length(to - centre);
  const double beside = offsetRadius(c, radius, arc.clockwise);
  const double turn = arc.clockwise ? -1 : 1;
  const auto travel = [&](WorkPoint2 at) { return leftOf(at - centre) * (turn / length(at - centre)); };
  if (radius <= same_point_mm || (c.entered && length(c.programmed - centre) <= same_point_mm)) {
    addNotFollowed(sink, ProblemKind::compensated_arc_at_its_centre, place);
    giveUpArc(machine, sink, to, arc, place);
    return;
  }
  if (beside <= 0) {
    addNotFollowed(sink, ProblemKind::compensated_arc_too_small, place,
                   {fact::Length{radius}, fact::Length{c.radius_mm}});
    giveUpArc(machine, sink, centre, arc, place);
    return;
  }
  const WorkPoint2 tool_end = centre + (to - centre) * (beside / radius);
  const WorkPoint2 from = c.entered ? c.programmed : flat(machine.position);
  const double reach = arcReach(machine, arc, from);
  const std::size_t first = sink.program.motions.size();
  bool at_start = true;
  if (c.entered) {
    const double start_radius = length(from - centre);
    const WorkPoint2 start = centre + (from - centre) * (offsetRadius(c, start_radius, arc.clockwise) / start_radius);
    at_start =
        join(machine, sink, {{start, tool_end, centre, arc.clockwise ? -1 : 1}, travel(from), reach, from}, place);
  } else if (std::abs(length(flat(machine.position) - centre) - beside) > 0.01) {
    // NISTIR 6556 B.6: the tool must touch the arc about the same centre already, and stays touching it.
    addNotFollowed(sink, ProblemKind::compensation_entry_off_arc, place);
    giveUpArc(machine, sink, tool_end, arc, place);
    openEnd(machine, sink, first, travel(to), reach, true);
    return;
  }
  runAlongArc(machine, sink, arc, from, tool_end, at_start, place);
  c.entered = true;
  c.programmed = to;
  openEnd(machine, sink, first, travel(to), reach, false);
}

std::optional<RadiusCentre> firstArcCentre(const CompensationState& compensation, WorkPoint2 start, WorkPoint2 end,
                                           double radius, bool clockwise) {
  const Vec2 chord = end - start;
  const double d = length(chord);
  if (d == 0) return std::nullopt;
  const double from_end = std::abs(radius), from_start = offsetRadius(compensation, from_end, clockwise);
  const double at = (d * d + (from_start - from_end) * (from_start + from_end)) / (2 * d);
  const Vec2 along = chord * (1 / d);
  const double square = from_start * from_start - at * at;
  if (from_start <= 0 || square < 0) return RadiusCentre{start + along * at, std::abs(at) - std::abs(from_start)};
  const double side = clockwise == (radius > 0) ? -1 : 1;
  return RadiusCentre{start + along * at + leftOf(along) * (side * std::sqrt(square)), 0};
}

void refuseUnderCompensation(const Line& line, MachineState& machine, Sink& sink, const LineWords::Code& code) {
  if (machine.compensation.side == 0) return;
  addProblem(sink, ProblemKind::code_under_compensation, placeOf(line, code), {codeOf(line, code)});
  endCompensation(machine);
}

}  // namespace provecut::interpreter
