#include <cmath>
#include <string>

#include "parser/arc.h"
#include "parser/plane_axes.h"
#include "parser/quoted_text.h"
#include "parser/reading.h"

namespace provecut {

namespace {

// The standard allows 0.002 mm, or 0.0002 in when the program is in inches (NISTIR 6556 3.5.3.2). Three or four decimals
// in a file do not keep that for large or chained arcs, so that the usual reading allows more (common practice, no source).
double radiusTolerance(const Reading& r, double radius) {
  const double strict = r.state.inch ? 0.0002 * mm_per_inch : 0.002;
  return r.options.strict ? strict : std::fmax(strict, 0.01 + 0.001 * radius);
}

std::string mm(double value) { return shownNumber(value, 4) + " mm"; }

// Marks and reports centre words that are not of the plane.
void checkCentreWords(Reading& r, PlaneAxes axes) {
  LineWords& w = r.line_words;
  const char odd = centre_letter[axes.normal];
  if (w.has(odd)) {
    addProblem(r, "word-unused", placeOf(r, w.word(odd)), shownWord(r, w.word(odd)) + " is not of the plane in force.",
               "It is left out.", "In a helix the rise is given by the end point alone.");
  }
}

void followStraight(Reading& r, Vec3 end, Place place) { addMotion(r, MotionKind::feed, end, place); }

void addArc(Reading& r, bool clockwise, Vec3 end, Vec2 centre, int turns, Place place) {
  Motion& m = addMotion(r, clockwise ? MotionKind::arc_cw : MotionKind::arc_ccw, end, place);
  m.centre = centre;
  m.turns = static_cast<std::uint16_t>(turns);
  if (r.state.inverse_time && r.state.feed > 0) m.feed_mm_min = static_cast<float>(r.state.feed * arcLength(m));
}

}  // namespace

void runArc(Reading& r, bool clockwise, Place place) {
  LineWords& w = r.line_words;
  const PlaneAxes axes = axesOf(r.state.plane);
  const char end1 = axis_letter[axes.first], end2 = axis_letter[axes.second];
  const char c1 = centre_letter[axes.first], c2 = centre_letter[axes.second];
  const bool by_centre = w.has(c1) || w.has(c2), by_radius = w.has('R');
  const bool plane_end = w.has(end1) || w.has(end2);
  w.used |= axis_letters | LineWords::bit('I') | LineWords::bit('J') | LineWords::bit('K') | LineWords::bit('R') | LineWords::bit('P');
  const double unit = r.state.unit();

  if (r.options.strict && !plane_end) {
    addProblem(r, "arc-faulty", place, "An arc needs at least one end word of its plane.", "The arc is left out.");
    return;
  }
  int turns = 1;
  if (w.has('P')) {
    const double p = w.value('P');
    if (p >= 1 && p <= 1000 && p == std::floor(p) && !r.options.strict) {
      turns = static_cast<int>(p);
    } else {
      addProblem(r, "word-out-of-range", placeOf(r, w.word('P')), shownWord(r, w.word('P')) + " is not a number of turns.", "One turn is taken.");
    }
  }
  checkCentreWords(r, axes);
  const Vec3 start3 = r.position;
  const Vec3 end3 = targetOf(r);
  const Vec2 start = inPlane(start3, axes), end = inPlane(end3, axes);

  if (by_radius) {
    if (by_centre) {
      addProblem(r, "arc-faulty", placeOf(r, w.word('R')), "The arc has both a radius and centre words.", "The radius is obeyed.");
    }
    const double radius = w.value('R') * unit;
    const auto found = centreFromRadius(start, end, radius, clockwise);
    if (!found || length(end - start) < 1e-6 || radius == 0) {
      addProblem(r, "arc-faulty", placeOf(r, w.word('R')),
                 radius == 0 ? "The arc's radius is 0." : "An arc by radius must not end where it starts: its centre is open.",
                 "A straight feed to its end is taken.", "Give the centre by I, J or K.");
      followStraight(r, end3, place);
      return;
    }
    if (found->shortfall > radiusTolerance(r, std::abs(radius))) {
      addProblem(r, "arc-radius", placeOf(r, w.word('R')),
                 "The radius " + mm(std::abs(radius)) + " is shorter than half the way from the arc's start to its end, " +
                     mm(std::abs(radius) + found->shortfall) + ".",
                 "A half circle over that way is taken.");
    }
    addArc(r, clockwise, end3, found->centre, turns, place);
    return;
  }
  if (!by_centre) {
    addProblem(r, "arc-faulty", place, "An arc needs a radius or a centre word of its plane.", "A straight feed to its end is taken.",
               "Add I, J, K or R, or set G1 before this line.");
    r.program.read_whole = false;
    followStraight(r, end3, place);
    return;
  }
  const auto centreWord = [&](char letter, double from, double shift) {
    const double v = w.has(letter) ? w.value(letter) * unit : 0;
    if (!r.state.arc_centre_absolute) return from + v;
    return w.has(letter) ? v + shift : from;
  };
  const Vec3 shift = r.origin + r.g92;
  const Vec2 centre{centreWord(c1, start.x, component(shift, axes.first)), centreWord(c2, start.y, component(shift, axes.second))};
  const double r0 = length(start - centre), r1 = length(end - centre);
  if (r0 < 1e-9) {
    addProblem(r, "arc-faulty", place, "The arc's centre is its start: it has no radius.", "A straight feed to its end is taken.");
    followStraight(r, end3, place);
    return;
  }
  if (std::abs(r0 - r1) > radiusTolerance(r, r0)) {
    std::string help = "Check the centre words, or export with more decimals.";
    const Vec2 other = r.state.arc_centre_absolute
                           ? start + Vec2{w.has(c1) ? w.value(c1) * unit : 0, w.has(c2) ? w.value(c2) * unit : 0}
                           : Vec2{w.has(c1) ? w.value(c1) * unit + component(shift, axes.first) : start.x,
                                  w.has(c2) ? w.value(c2) * unit + component(shift, axes.second) : start.y};
    if (std::abs(length(start - other) - length(end - other)) <= radiusTolerance(r, length(start - other))) {
      help = r.state.arc_centre_absolute ? "Read as increments from the start the radii agree: is G91.1 missing?"
                                         : "Read as absolute coordinates the radii agree: is G90.1 missing?";
    }
    addProblem(r, "arc-radius", place,
               "The arc's radius is " + mm(r0) + " at its start and " + mm(r1) + " at its end.",
               "It is followed about its centre to the end as written.", std::move(help));
  }
  addArc(r, clockwise, end3, centre, turns, place);
}

}  // namespace provecut
