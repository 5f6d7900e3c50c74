#include "parser/interpreter/cutter_compensation.h"

#include <cmath>
#include <numbers>
#include <optional>
#include <span>
#include <string>

#include "parser/base/quoted_text.h"
#include "parser/interpreter/expression.h"
#include "parser/interpreter/offset_curve.h"

namespace provecut::interpreter {

namespace {

constexpr double same_point_mm = 1e-6;

std::string mm(double value) {
  return shownNumber(value, 4) + " mm";
}

Vec2 leftOf(Vec2 direction) {
  return {-direction.y, direction.x};
}

void sayFaulty(Reading& r, Place place, std::string message, std::string assumed) {
  addNotFollowed(r, "compensation-faulty", place, std::move(message), std::move(assumed));
}

// Under G93 all motions of a line together take its time (NISTIR 6556 3.5.19).
void shareTime(Reading& r) {
  const CompensationState& c = r.compensation;
  if (c.per_minute <= 0 || r.over_limit) return;
  const std::span<Motion> motions = std::span(r.program.motions).subspan(c.first_motion, c.motion - c.first_motion + 1);
  double way = 0;
  for (const Motion& m : motions) way += pathLength(m);
  for (Motion& m : motions) m.feed_mm_min = static_cast<float>(c.per_minute * way);
}

// Moves the open end of the last move, and all that stands there since, to `at`.
void settle(Reading& r, WorkPoint2 at) {
  CompensationState& c = r.compensation;
  if (!c.open) return;
  c.open = false;
  for (std::size_t i = c.motion; i < r.program.motions.size(); ++i) {
    Motion& m = r.program.motions[i];
    if (i > c.motion) {
      m.start.x = at.x;
      m.start.y = at.y;
    }
    m.end.x = at.x;
    m.end.y = at.y;
  }
  shareTime(r);
  r.position.x = at.x;
  r.position.y = at.y;
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

// Whether the moves go on smoothly but for what rounding their words does: each end may be off by the tolerance.
bool isSmooth(const Reading& r, Vec2 direction, double reach) {
  const CompensationState& c = r.compensation;
  const double tolerance = r.state.tolerance_mm();
  const double kink = std::atan2(std::abs(cross(c.direction, direction)), dot(c.direction, direction));
  return kink <= tolerance * (1 / c.reach_mm + 1 / reach) && overlap(c, direction) <= 2 * tolerance;
}

// Joins the open move to the one that starts at `next.start` going `direction`, which hangs on `reach`; `corner` is the
// programmed point between. Afterwards the tool stands where the next move begins. True: that is at `next.start` but
// for rounding; false: where the moves cross before it.
bool join(Reading& r, const OffsetCurve& next, Vec2 direction, double reach, WorkPoint2 corner, Place place) {
  CompensationState& c = r.compensation;
  if (!c.open || length(flat(r.position) - next.start) <= same_point_mm || isSmooth(r, direction, reach)) return true;
  const double turn = cross(c.direction, direction) * c.side;
  const bool inside = turn > 1e-12 && !(std::abs(turn) < 1e-9 && dot(c.direction, direction) < 0);
  if (!inside) {
    // Outside corner: around it on an arc of the tool's radius.
    c.open = false;
    Motion& arc = addMotion(r, c.side > 0 ? MotionKind::arc_cw : MotionKind::arc_ccw,
                            {next.start.x, next.start.y, r.position.z}, place);
    arc.plane = Plane::xy;
    arc.centre = corner;
    return true;
  }
  tolerate(r, "", "compensation-faulty", place, "The standard refuses inside corners under cutter radius compensation.",
           "The corner is cut where the paths beside both moves cross.");
  if (c.entry) {
    // The first move only brings the tool to the path: it ends where the next one begins.
    settle(r, next.start);
    return true;
  }
  const Motion& last = r.program.motions[c.motion];
  const std::optional<WorkPoint2> meeting = meetingPoint(curveOf(last), next, corner);
  if (!meeting && overlap(c, direction) <= 2 * r.state.tolerance_mm()) return true;
  if (!meeting) {
    sayFaulty(r, place,
              "The inside corner at X " + shownNumber(corner.x) + " Y " + shownNumber(corner.y) +
                  " is too tight for the tool's radius of " + mm(c.radius_mm) + ".",
              "The tool goes straight across the corner and cuts into it.");
    c.open = false;
    addMotion(r, MotionKind::feed, {next.start.x, next.start.y, r.position.z}, place);
    return true;
  }
  settle(r, *meeting);
  return false;
}

// The line's last motion, whose end is open now; `first` is the index of its first.
void openEnd(Reading& r, std::size_t first, Vec2 direction, double reach, bool entry) {
  CompensationState& c = r.compensation;
  if (r.over_limit) return;
  c.motion = r.program.motions.size() - 1;
  c.first_motion = first;
  const bool timed = r.state.inverse_time && r.program.motions[c.motion].kind != MotionKind::rapid;
  c.per_minute = timed ? r.state.feed : 0;
  shareTime(r);
  c.open = true;
  c.entry = entry;
  c.direction = direction;
  c.reach_mm = reach;
}

// NISTIR 6556 B.6: right triangle whose hypotenuse goes from the tool to the programmed end, with the tool's radius as
// the leg at that end and the right angle at the tool's new place.
void enterOnLine(Reading& r, MotionKind kind, WorkPoint end, Place place) {
  CompensationState& c = r.compensation;
  const WorkPoint2 from = flat(r.position), to = flat(end);
  const double distance = length(to - from);
  c.programmed = to;
  c.entered = true;
  if (distance < c.radius_mm) {
    sayFaulty(r, place,
              "The first compensated move ends within the cutter: it is " + mm(distance) + " long, the radius " +
                  mm(c.radius_mm) + ".",
              "The move is followed without compensation.");
    addMotion(r, kind, end, place);
    return;
  }
  const Vec2 along = (to - from) * (1 / distance);
  const double share = c.radius_mm / distance;
  // From the end back along the hypotenuse, then sideways: the leg of the tool's radius.
  const WorkPoint2 centre =
      to - along * (c.radius_mm * share) + leftOf(along) * (c.side * c.radius_mm * std::sqrt(1 - share * share));
  const std::size_t first = r.program.motions.size();
  addMotion(r, kind, {centre.x, centre.y, end.z}, place);
  const Vec2 travel = centre - from;
  openEnd(r, first, length(travel) > 0 ? travel * (1 / length(travel)) : along, distance, true);
}

// Radius of the tool's path beside an arc: the tool is inside of a counter-clockwise arc when it runs on the left.
double offsetRadius(const CompensationState& c, double radius, bool clockwise) {
  return radius + (clockwise ? c.side : -c.side) * c.radius_mm;
}

double arcReach(const Reading& r, WorkPoint2 from, WorkPoint2 to, WorkPoint2 centre) {
  const double radius = length(to - centre);
  if (!r.line_words.has('R')) return radius;
  // Near a half circle the centre of an arc by radius hangs on the last decimals of its ends.
  return std::fmax(length(middle(from, to) - centre), std::sqrt(radius * r.state.tolerance_mm() / 2));
}

// How far to turn from one direction to another, counter-clockwise for `turn` 1, clockwise for -1: above 0, 2 pi where
// they agree.
double turnBetween(Vec2 from, Vec2 to, double turn) {
  const double angle = std::atan2(cross(from, to), dot(from, to)) * turn;
  return angle * length(to) <= same_point_mm ? angle + 2 * std::numbers::pi : angle;
}

}  // namespace

void switchCompensation(Reading& r, int code, Place place) {
  LineWords& w = r.line_words;
  CompensationState& c = r.compensation;
  if (code == 400) {
    endCompensation(r);
    return;
  }
  if (r.state.plane != Plane::xy) {
    addNotFollowed(r, "compensation-misplaced", place, "Cutter radius compensation works in the XY plane (G17) only.",
                   "It stays off.");
    w.used |= LineWords::bit('D');
    return;
  }
  int number = r.state.tool;
  if (w.has('D')) {
    w.used |= LineWords::bit('D');
    if (!nearInteger(w.value('D'), number) || number < 0) {
      addProblem(r, "compensation-misplaced", placeOf(r, w.word('D')),
                 shownWord(r, w.word('D')) + " is not the number of a tool.", "The tool in the spindle is taken.");
      number = r.state.tool;
    }
  }
  double diameter = 0;
  if (number != 0 || !w.has('D')) {
    const auto found = r.options.tool_diameter_mm.find(number);
    if (found == r.options.tool_diameter_mm.end()) {
      addNotFollowed(r, "compensation-diameter-unknown", place,
                     "The diameter of tool " + std::to_string(number) +
                         " is not known, so compensation for it cannot be followed.",
                     "The tool is taken along the path as written.");
    } else {
      diameter = found->second;
    }
  }
  const int side = (code == 410) == (diameter >= 0) ? 1 : -1;  // a negative diameter changes the side (B.4)
  const double radius = std::abs(diameter) / 2;
  if (c.side != 0) {
    const bool changes = side != c.side || radius != c.radius_mm;
    tolerate(r, changes ? "compensation-misplaced" : "", "compensation-misplaced", place,
             "Compensation is on already; switching it needs G40 first.",
             changes ? "It is switched as written: the next move brings the tool to the path anew." : "It stays on.");
    if (!changes) return;
  }
  c = {};
  c.side = side;
  c.radius_mm = radius;
}

void endCompensation(Reading& r) {
  r.compensation = {};
}

void compensatedLine(Reading& r, MotionKind kind, WorkPoint end, Place place) {
  CompensationState& c = r.compensation;
  if (!c.entered) {
    if (flat(end) == flat(r.position)) {
      addMotion(r, kind, end, place);
      return;
    }
    enterOnLine(r, kind, end, place);
    return;
  }
  const WorkPoint2 from = c.programmed, to = flat(end);
  const double distance = length(to - from);
  // Along Z only, or so short that rounding gives it its direction: the tool stays beside the same point.
  if (distance <= (c.radius_mm > 0 ? r.state.tolerance_mm() : same_point_mm)) {
    if (distance <= same_point_mm || end.z != r.position.z)
      addMotion(r, kind, {r.position.x, r.position.y, end.z}, place);
    return;
  }
  const Vec2 direction = (to - from) * (1 / distance);
  const Vec2 aside = leftOf(direction) * (c.side * c.radius_mm);
  const OffsetCurve next{from + aside, to + aside, {}, 0};
  const std::size_t first = r.program.motions.size();
  join(r, next, direction, distance, from, place);
  addMotion(r, kind, {next.end.x, next.end.y, end.z}, place);
  c.programmed = to;
  openEnd(r, first, direction, distance, false);
}

void compensatedArc(Reading& r, bool clockwise, WorkPoint end, WorkPoint2 centre, int turns, Place place) {
  CompensationState& c = r.compensation;
  const WorkPoint2 to = flat(end);
  const double radius = length(to - centre);
  const double beside = offsetRadius(c, radius, clockwise);
  const double turn = clockwise ? -1 : 1;
  const auto travel = [&](WorkPoint2 at) { return leftOf(at - centre) * (turn / length(at - centre)); };
  if (radius <= same_point_mm || (c.entered && length(c.programmed - centre) <= same_point_mm)) {
    sayFaulty(r, place, "The arc starts or ends at its own centre: it has no side for the tool to run on.",
              "The tool goes straight to its end.");
    addMotion(r, MotionKind::feed, end, place);
    c.programmed = to;
    c.entered = true;
    c.open = false;
    return;
  }
  if (beside <= 0) {
    sayFaulty(r, place,
              "The arc's radius of " + mm(radius) + " is too small for the tool's radius of " + mm(c.radius_mm) +
                  " on its inside.",
              "The tool goes straight to the arc's centre.");
    addMotion(r, MotionKind::feed, {centre.x, centre.y, end.z}, place);
    c.programmed = to;
    c.entered = true;
    c.open = false;
    return;
  }
  const WorkPoint2 tool_end = centre + (to - centre) * (beside / radius);
  const WorkPoint2 from = c.entered ? c.programmed : flat(r.position);
  const double reach = arcReach(r, from, to, centre);
  const std::size_t first = r.program.motions.size();
  bool at_start = true;
  if (!c.entered) {
    // NISTIR 6556 B.6: the tool must touch the arc about the same centre already, and stays touching it.
    if (std::abs(length(flat(r.position) - centre) - beside) > 0.01) {
      sayFaulty(r, place, "Compensation cannot start on this arc: the cutter does not touch it where it stands.",
                "The tool goes straight to the arc's end.");
      addMotion(r, MotionKind::feed, {tool_end.x, tool_end.y, end.z}, place);
      c.programmed = to;
      c.entered = true;
      openEnd(r, first, travel(to), reach, true);
      return;
    }
    c.entered = true;
  } else {
    const double start_radius = length(from - centre);
    const WorkPoint2 start = centre + (from - centre) * (offsetRadius(c, start_radius, clockwise) / start_radius);
    at_start = join(r, {start, tool_end, centre, clockwise ? -1 : 1}, travel(from), reach, from, place);
  }
  const double wanted = turnBetween(from - centre, to - centre, turn),
               made = turnBetween(flat(r.position) - centre, to - centre, turn);
  constexpr double half_turn = std::numbers::pi;
  if (at_start && made > wanted + half_turn) {
    // Rounding put the start beyond the end of a tiny arc, of which a whole circle must not come.
    addMotion(r, MotionKind::feed, {tool_end.x, tool_end.y, end.z}, place);
  } else {
    const bool whole = at_start && made < wanted - half_turn;
    const WorkPoint2 stop = whole ? flat(r.position) : tool_end;
    Motion& m = addMotion(r, clockwise ? MotionKind::arc_cw : MotionKind::arc_ccw, {stop.x, stop.y, end.z}, place);
    m.centre = centre;
    m.turns = static_cast<std::uint16_t>(turns);
  }
  c.programmed = to;
  openEnd(r, first, travel(to), reach, false);
}

std::optional<RadiusCentre> firstArcCentre(const Reading& r, WorkPoint2 start, WorkPoint2 end, double radius,
                                           bool clockwise) {
  const Vec2 chord = end - start;
  const double d = length(chord);
  if (d == 0) return std::nullopt;
  const double from_end = std::abs(radius), from_start = offsetRadius(r.compensation, from_end, clockwise);
  const double at = (d * d + (from_start - from_end) * (from_start + from_end)) / (2 * d);
  const Vec2 along = chord * (1 / d);
  const double square = from_start * from_start - at * at;
  if (from_start <= 0 || square < 0) return RadiusCentre{start + along * at, std::abs(at) - std::abs(from_start)};
  const double side = clockwise == (radius > 0) ? -1 : 1;
  return RadiusCentre{start + along * at + leftOf(along) * (side * std::sqrt(square)), 0};
}

void refuseUnderCompensation(Reading& r, const LineWords::Code& code) {
  if (r.compensation.side == 0) return;
  addProblem(r, "compensation-misplaced", placeOf(r, *code.word),
             shownWord(r, *code.word) + " must not stand while cutter radius compensation is on.",
             "Compensation is ended before it.", "Put G40 and a move away from the part before this line.");
  endCompensation(r);
}

}  // namespace provecut::interpreter
