// G2 and G3 (NISTIR 6556 3.5.3).
#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

#include "parser/base/quoted_text.h"
#include "parser/interpreter/cutter_compensation.h"
#include "parser/interpreter/reading.h"
#include "parser/program/arc.h"
#include "parser/program/plane_axes.h"

namespace provecut::interpreter {

namespace {

constexpr double same_point_mm = 1e-6;
constexpr double max_turns = 1000;

// Three or four decimals in a file do not keep the standard's tolerance for large or chained arcs, so that the usual
// reading allows more (common practice, no source).
double radiusTolerance(const Reading& r, double radius) {
  const double strict = r.state.tolerance_mm();
  return r.options.strict ? strict : std::fmax(strict, 0.01 + 0.001 * radius);
}

std::string mm(double value) {
  return shownNumber(value, 4) + " mm";
}

struct ArcWords {
  bool clockwise;
  Place place;
  PlaneAxes axes;
  WorkPoint end3;
  WorkPoint2 start, end;  // in the plane's axes
  int turns = 1;
};

void followStraight(Reading& r, const ArcWords& a) {
  if (r.compensation.side != 0) {
    compensatedLine(r, MotionKind::feed, a.end3, a.place);
  } else {
    addMotion(r, MotionKind::feed, a.end3, a.place);
  }
}

// Whether rounding alone can part the end from the start: a whole circle, or all but the last hundredth of a turn of
// one.
bool isWholeCircle(const Reading& r, const ArcWords& a, WorkPoint2 centre) {
  const double chord = length(a.end - a.start);
  if (chord == 0) return true;
  const Vec2 from = a.start - centre, to = a.end - centre;
  const double back = std::atan2(cross(from, to), dot(from, to)) * (a.clockwise ? 1 : -1);
  return chord <= r.state.tolerance_mm() && back > 0 && back < 2 * std::numbers::pi / 100;
}

// A whole circle after a short arc about the same centre: rounding put the end of a tiny arc on or behind its start.
void doubtWholeCircle(Reading& r, const ArcWords& a, WorkPoint2 centre) {
  if (r.program.motions.empty() || !isWholeCircle(r, a, centre)) return;
  const Motion& before = r.program.motions.back();
  const bool neighbour = isArc(before) && before.plane == r.state.plane && before.start.z == before.end.z &&
                         length(before.centre - centre) < 0.01 && before.start != before.end;
  if (!neighbour || sweepOf(before) > 0.5 || component(a.end3, a.axes.normal) != component(r.position, a.axes.normal))
    return;
  const double chord = length(a.end - a.start);
  addProblem(r, "arc-whole-circle-doubt", a.place,
             chord == 0
                 ? "The arc ends where it starts, which is a whole circle, after a short arc about the same centre."
                 : "The arc ends " + mm(chord) +
                       " behind its start, which is a whole circle, after a short arc about the same centre.",
             "The whole circle is followed.", "If a tiny arc was meant, export with more decimals.");
}

void followArc(Reading& r, const ArcWords& a, WorkPoint2 centre) {
  noteUse(r, "arcs", a.place);
  doubtWholeCircle(r, a, centre);
  if (r.compensation.side != 0) {
    compensatedArc(r, a.clockwise, a.end3, centre, a.turns, a.place);
    return;
  }
  Motion& m = addMotion(r, a.clockwise ? MotionKind::arc_cw : MotionKind::arc_ccw, a.end3, a.place);
  m.centre = centre;
  m.turns = static_cast<std::uint16_t>(a.turns);
  if (r.state.inverse_time && r.state.feed > 0) m.feed_mm_min = static_cast<float>(r.state.feed * arcLength(m));
}

int turnsOf(Reading& r) {
  LineWords& w = r.line_words;
  if (!w.has('P') || r.options.strict) return 1;
  w.used |= LineWords::bit('P');
  const double p = w.value('P');
  if (p >= 1 && p <= max_turns && p == std::floor(p)) return static_cast<int>(p);
  addProblem(r, "word-out-of-range", placeOf(r, w.word('P')), shownWord(r, w.word('P')) + " is not a number of turns.",
             "One turn is taken.");
  return 1;
}

void byRadius(Reading& r, const ArcWords& a) {
  LineWords& w = r.line_words;
  const Word& word = w.word('R');
  const double radius = w.value('R') * r.state.unit();
  if (radius == 0) {
    addProblem(r, "arc-faulty", placeOf(r, word), "The arc's radius is 0.", "A straight feed to its end is taken.");
    followStraight(r, a);
    return;
  }
  const bool first_compensated = r.compensation.side != 0 && !r.compensation.entered;
  if (length(a.end - a.start) < same_point_mm) {
    addProblem(r, "arc-ends-at-start", placeOf(r, word),
               "An arc by radius must not end where it starts: its centre is open.",
               "Nothing is followed but its rise.", "Give the centre by I, J or K.");
    followStraight(r, a);
    return;
  }
  const auto found = first_compensated ? firstArcCentre(r, a.start, a.end, radius, a.clockwise)
                                       : centreFromRadius(a.start, a.end, radius, a.clockwise);
  if (found->shortfall > radiusTolerance(r, std::abs(radius))) {
    addProblem(r, "arc-radius-too-short", placeOf(r, word),
               "The radius " + mm(std::abs(radius)) +
                   " is shorter than half the way from the arc's start to its end, " +
                   mm(std::abs(radius) + found->shortfall) + ".",
               "A half circle over that way is taken.");
  } else if (const double sweep =
                 2 * std::asin(std::fmin(1, length(a.end - a.start) / (2 * std::abs(radius)))) * 180 / 3.14159265358979;
             radius < 0 && 360 - sweep > 345) {
    // NISTIR 6556 3.5.3.1 calls it bad practice; near half circles are so common that they are not spoken of.
    addProblem(r, "radius-format-doubt", placeOf(r, word),
               "An arc by radius that is nearly a whole circle: its centre hangs on the last decimals.",
               "It is followed as written.", "Give the centre by I, J or K.");
  }
  followArc(r, a, found->centre);
}

// The centre as I, J, K give it, or as they would in the other way of reading them.
WorkPoint2 centreOf(const Reading& r, const ArcWords& a, bool absolute) {
  const LineWords& w = r.line_words;
  const double unit = r.state.unit();
  const auto coordinate = [&](int axis, double start) {
    const char letter = centre_letter[axis];
    if (!w.has(letter)) return start;
    const double value = w.value(letter) * unit;
    return absolute ? value + component(r.origin, axis) + component(r.g92, axis) : start + value;
  };
  return {coordinate(a.axes.first, a.start.x), coordinate(a.axes.second, a.start.y)};
}

void byCentre(Reading& r, const ArcWords& a) {
  const bool absolute = r.state.arc_centre_absolute;
  const WorkPoint2 centre = centreOf(r, a, absolute);
  const double r0 = length(a.start - centre), r1 = length(a.end - centre);
  if (r0 < 1e-9) {
    addProblem(r, "arc-faulty", a.place, "The arc's centre is its start: it has no radius.",
               "A straight feed to its end is taken.");
    followStraight(r, a);
    return;
  }
  const bool first_compensated = r.compensation.side != 0 && !r.compensation.entered;
  if (std::abs(r0 - r1) > radiusTolerance(r, r0) && !first_compensated) {
    std::string help = "Check the centre words, or export with more decimals.";
    const WorkPoint2 other = centreOf(r, a, !absolute);
    const double s0 = length(a.start - other);
    if (s0 > 0 && std::abs(s0 - length(a.end - other)) <= radiusTolerance(r, s0)) {
      help = absolute ? "Read as increments from the start the radii agree: is G91.1 missing?"
                      : "Read as absolute coordinates the radii agree: is G90.1 missing?";
    }
    addProblem(r, "arc-radius", a.place,
               "The arc's radius is " + mm(r0) + " at its start and " + mm(r1) + " at its end.",
               "It is followed about its centre to the end as written.", std::move(help));
  }
  followArc(r, a, centre);
}

}  // namespace

void runArc(Reading& r, bool clockwise, Place place) {
  LineWords& w = r.line_words;
  const PlaneAxes axes = axesOf(r.state.plane);
  const std::uint32_t plane_ends = LineWords::bits(axis_letter[axes.first], axis_letter[axes.second]);
  const std::uint32_t plane_centres = LineWords::bits(centre_letter[axes.first], centre_letter[axes.second]);
  w.used |= axis_letters | plane_centres | LineWords::bit('R');
  if (r.state.inverse_time && !w.has('F')) {
    addProblem(r, "feed-missing-inverse-time", place, "Under G93 each feed move needs its own F.",
               "The F before it is taken.");
  }
  ArcWords a{clockwise, place, axes, {}, {}, {}, turnsOf(r)};
  const WorkPoint start3 = programmedPoint(r);
  noteIncrements(r, place);
  a.end3 = targetOf(r);
  a.start = inPlane(start3, axes);
  a.end = inPlane(a.end3, axes);
  if (!w.hasAny(plane_ends)) {
    tolerate(r, "", "arc-end-missing", place, "An arc needs an end word of its plane.",
             "It is taken to end where it starts: a whole circle.");
  }
  if (w.has('R')) {
    if (w.hasAny(centre_letters)) {
      addProblem(r, "arc-two-formats", placeOf(r, w.word('R')), "The arc has both a radius and centre words.",
                 "The radius is obeyed.");
      w.used |= centre_letters;
    }
    byRadius(r, a);
  } else if (w.hasAny(plane_centres)) {
    byCentre(r, a);
  } else {
    addNotFollowed(r, "arc-centre-missing", place, "An arc needs a radius or a centre word of its plane.",
                   "A straight feed to its end is taken.", "Add I, J, K or R, or set G1 before this line.");
    followStraight(r, a);
  }
}

}  // namespace provecut::interpreter
