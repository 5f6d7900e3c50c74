// Canned cycles (NISTIR 6556 3.5.16), for all three planes.
#include <algorithm>
#include <cmath>
#include <string>

#include "parser/base/quoted_text.h"
#include "parser/interpreter/expression.h"
#include "parser/interpreter/reading.h"
#include "parser/program/plane_axes.h"

namespace provecut::interpreter {

namespace {

// How far a peck stops short of the last depth, and how far G73 backs off; the standard gives no number
// (0.010 in: common practice, no source).
constexpr double peck_clearance_mm = 0.254;
constexpr double max_pecks = 10'000;
constexpr int max_repeats = 100'000;

struct Cycle {
  Reading& r;
  PlaneAxes axes;
  Place place;
  int code;
  double r_level, bottom, clear;  // along the normal, mm
  double peck = 0, dwell_s = 0;

  void move(MotionKind kind, WorkPoint end) {
    if (end != r.position) addMotion(r, kind, end, place);
  }
  void along(MotionKind kind, double level) {
    WorkPoint end = r.position;
    component(end, axes.normal) = level;
    move(kind, end);
  }
  void rapid(double level) { along(MotionKind::rapid, level); }
  void feed(double level) { along(MotionKind::feed, level); }
  void across(WorkPoint2 to) {
    WorkPoint end = r.position;
    component(end, axes.first) = to.x;
    component(end, axes.second) = to.y;
    move(MotionKind::rapid, end);
  }
  void dwell() {
    if (dwell_s > 0) addDwell(r, dwell_s, place);
  }
  void spindle(Spindle wanted) { setSpindle(r, wanted, place); }
};

void peckDrill(Cycle& c, bool full_retract) {
  double depth = c.r_level;
  while (depth > c.bottom && !c.r.over_limit) {
    if (depth < c.r_level) {
      // Down again to just above where the last peck ended.
      if (full_retract) c.rapid(c.clear);
      c.rapid(std::min(depth + peck_clearance_mm, full_retract ? c.clear : c.r_level));
    }
    depth = std::max(depth - c.peck, c.bottom);
    c.feed(depth);
  }
  c.rapid(c.clear);
}

void backBore(Cycle& c, WorkPoint2 hole, WorkPoint2 insert, double back_level) {
  const Spindle turning = c.r.state.spindle;
  c.across(insert);
  c.spindle(Spindle::off);
  c.rapid(c.bottom);
  c.across(hole);
  c.spindle(turning);
  c.feed(back_level);
  c.feed(c.bottom);
  c.spindle(Spindle::off);
  c.across(insert);
  c.rapid(c.clear);
  c.across(hole);
  c.spindle(turning);
}

void drillOne(Cycle& c) {
  const Spindle turning = c.r.state.spindle;
  switch (c.code) {
    case 730:
      peckDrill(c, false);
      return;
    case 830:
      peckDrill(c, true);
      return;
    case 840:  // tapping
      c.feed(c.bottom);
      c.spindle(Spindle::off);
      c.spindle(Spindle::ccw);
      c.feed(c.clear);
      c.spindle(Spindle::off);
      c.spindle(Spindle::cw);
      return;
    case 850:
      c.feed(c.bottom);
      c.feed(c.clear);
      return;
    case 860:
    case 880:
      c.feed(c.bottom);
      c.dwell();
      c.spindle(Spindle::off);
      if (c.code == 880) addEvent(c.r, EventKind::stop, 0, c.place);  // the operator retracts by hand
      c.rapid(c.clear);
      c.spindle(turning);
      return;
    case 890:
      c.feed(c.bottom);
      c.dwell();
      c.feed(c.clear);
      return;
    default:  // G81, G82
      c.feed(c.bottom);
      c.dwell();
      c.rapid(c.clear);
      return;
  }
}

// The line's own word, or the one kept from the line before of the same cycle.
bool sticky(Reading& r, char letter, double& value) {
  LineWords& w = r.line_words;
  const std::size_t index = static_cast<std::size_t>(letter - 'A');
  if (w.has(letter)) {
    r.cycle.sticky[index] = w.value(letter);
    r.cycle.present |= LineWords::bit(letter);
  }
  value = r.cycle.sticky[index];
  return (r.cycle.present & LineWords::bit(letter)) != 0;
}

int repeats(Reading& r) {
  LineWords& w = r.line_words;
  if (!w.has('L')) return 1;
  int l = 0;
  if (!nearInteger(w.value('L'), l) || l < 1) {
    const bool none = w.value('L') == 0;
    addProblem(r, "cycle-repeats", placeOf(r, w.word('L')),
               shownWord(r, w.word('L')) + ": repeats are a whole number above zero.",
               none ? "No hole is made." : "One hole is made.");
    return none ? 0 : 1;
  }
  if (l > max_repeats) {
    addNotFollowed(r, "limit-reached", placeOf(r, w.word('L')),
                   shownWord(r, w.word('L')) + " is more repeats than are followed.",
                   "The first " + std::to_string(max_repeats) + " are followed.");
    return max_repeats;
  }
  return l;
}

// The words that the cycle takes; exporters also give Q and P to cycles that have no use for them.
void markUsed(Reading& r, int code) {
  LineWords& w = r.line_words;
  w.used |= axis_letters | LineWords::bits('R', 'L');
  if (code == 870) w.used |= centre_letters;
  if (!r.options.strict) {
    w.used |= LineWords::bits('P', 'Q');
    return;
  }
  if (code == 820 || code == 860 || code == 880 || code == 890) w.used |= LineWords::bit('P');
  if (code == 830) w.used |= LineWords::bit('Q');
}

void setPeck(Cycle& c, bool given, double peck) {
  c.peck = peck;
  const double depth = std::abs(c.r_level - c.bottom) + 1;
  if (!given || peck <= 0) {
    addProblem(c.r, "cycle-peck", c.place, "A pecking cycle needs Q, a depth above zero.",
               "The hole is drilled in one go.");
    c.peck = depth;
  } else if (depth / peck > max_pecks) {
    addNotFollowed(c.r, "limit-reached", c.place, "The cycle's Q makes more than 10000 pecks.",
                   "The hole is taken in one go.");
    c.peck = depth;
  }
}

void checkSpindle(Reading& r, int code, Place place) {
  if (code == 840 && r.state.spindle != Spindle::cw) {
    addProblem(r, "cycle-spindle", place, "Tapping (G84) starts with the spindle not turning clockwise.",
               "The moves are followed.");
  }
  if ((code == 860 || code == 870 || code == 880) && r.state.spindle == Spindle::off) {
    addProblem(r, "cycle-spindle", place, "The cycle starts with the spindle not turning.", "The moves are followed.");
  }
}

}  // namespace

void runCycle(Reading& r, int code, Place place) {
  LineWords& w = r.line_words;
  noteUse(r, "canned-cycles", place);
  markUsed(r, code);
  if (r.compensation.side != 0) {
    addProblem(r, "compensation-misplaced", place,
               "A canned cycle must not stand while cutter radius compensation is on.",
               "Compensation is ended before it.");
    r.compensation = {};
  }
  noteIncrements(r, place);
  const PlaneAxes axes = axesOf(r.state.plane);
  r.cycle.code = code;
  const double unit = r.state.unit();
  const Vec3 shift = r.origin + r.g92;
  const double old_level = component(r.position, axes.normal);

  double r_word = 0, bottom_word = 0, q = 0, p = 0;
  const bool has_r = sticky(r, 'R', r_word);
  const bool has_bottom = sticky(r, axis_letter[axes.normal], bottom_word);
  const bool has_q = sticky(r, 'Q', q);
  const bool has_p = sticky(r, 'P', p);
  if (!has_bottom) {
    addNotFollowed(r, "cycle-without-depth", place,
                   std::string("The cycle has no ") + axis_letter[axes.normal] + " word: its depth is open.",
                   "It is left out.");
    return;
  }
  if (!has_r) addProblem(r, "cycle-without-depth", place, "The cycle has no R word.", "The height before it is taken.");
  const bool incremental = r.state.incremental;
  Cycle c{r, axes, place, code, 0, 0, 0};
  c.r_level = !has_r ? old_level : r_word * unit + (incremental ? old_level : component(shift, axes.normal));
  c.bottom = bottom_word * unit + (incremental ? c.r_level : component(shift, axes.normal));
  c.clear = r.state.retract_to_r ? c.r_level : std::max(old_level, c.r_level);
  if (!incremental) r.known[static_cast<std::size_t>(axes.normal)] = true;
  if (c.r_level < c.bottom) {
    addProblem(
        r, "cycle-r-below-depth", place,
        "The cycle's R, " + shownNumber(c.r_level) + " mm, is below its bottom, " + shownNumber(c.bottom) + " mm.",
        "Its moves are followed as written.");
  }
  const bool waits = code == 820 || code == 860 || code == 880 || code == 890;
  if (waits && (!has_p || p < 0)) {
    // Drilling without a wait where one is asked for is what most machines then do.
    tolerate(r, p < 0 ? "cycle-dwell" : "", "cycle-dwell", place,
             has_p ? "The cycle's P is below zero." : "The cycle needs P, a time to wait.", "It does not wait.");
  }
  if (waits && p > 0) c.dwell_s = p;
  if (code == 830 || code == 730) setPeck(c, has_q, q * unit);
  checkSpindle(r, code, place);
  if (r.state.inverse_time)
    addProblem(r, "cycle-in-wrong-mode", place, "A canned cycle must not stand under G93.",
               "Its moves are followed; their time is not known.");
  if (w.hasAny(rotary_letters))
    addProblem(r, "cycle-in-wrong-mode", place, "A canned cycle must not turn a rotary axis.",
               "X, Y and Z are followed.");

  const int count = repeats(r);
  r.in_cycle = true;
  if (count > 0 && old_level < c.r_level) c.rapid(c.r_level);
  const auto next = [&](int axis) {
    const char letter = axis_letter[axis];
    const double now = component(r.position, axis);
    if (!w.has(letter)) return now;
    if (incremental) return now + w.value(letter) * unit;
    r.known[static_cast<std::size_t>(axis)] = true;
    return w.value(letter) * unit + component(shift, axis);
  };
  for (int i = 0; i < count && !r.over_limit; ++i) {
    const WorkPoint2 hole{next(axes.first), next(axes.second)};
    c.across(hole);
    c.rapid(c.r_level);
    if (code == 870) {
      double i_word = 0, j_word = 0, back = 0;
      sticky(r, centre_letter[axes.first], i_word);
      sticky(r, centre_letter[axes.second], j_word);
      sticky(r, centre_letter[axes.normal], back);
      const double level = back * unit + (incremental ? c.bottom : component(shift, axes.normal));
      backBore(c, hole, hole + Vec2{i_word * unit, j_word * unit}, level);
    } else {
      drillOne(c);
    }
  }
  r.in_cycle = false;
}

}  // namespace provecut::interpreter
