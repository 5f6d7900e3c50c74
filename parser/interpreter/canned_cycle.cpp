// Canned cycles (NISTIR 6556 3.5.16), for all three planes.
#include <algorithm>
#include <cmath>
#include <optional>

#include "parser/interpreter/expression.h"
#include "parser/interpreter/moves.h"
#include "parser/interpreter/steps.h"
#include "parser/program/plane_axes.h"

namespace provecut::interpreter {

namespace {

// How far a peck stops short of the last depth, and how far G73 backs off; the standard gives no number
// (0.010 in: common practice, no source).
constexpr double peck_clearance_mm = 0.254;
constexpr int max_pecks = 10'000;
constexpr int max_repeats = 100'000;

// The cycle's moves, hole by hole.
struct Cycle {
  MachineState& machine;
  Sink& sink;
  PlaneAxes axes;
  Place place;
  int code;
  double r_level = 0, bottom = 0, clear = 0;  // along the normal, mm
  double peck = 0, dwell_s = 0;

  void move(MotionKind kind, WorkPoint end) {
    if (end != machine.position) addMove(machine, sink, kind, end, place);
  }
  void along(MotionKind kind, double level) {
    WorkPoint end = machine.position;
    component(end, axes.normal) = level;
    move(kind, end);
  }
  void rapid(double level) { along(MotionKind::rapid, level); }
  void feed(double level) { along(MotionKind::feed, level); }
  void across(WorkPoint2 to) {
    WorkPoint end = machine.position;
    component(end, axes.first) = to.x;
    component(end, axes.second) = to.y;
    move(MotionKind::rapid, end);
  }
  void dwell() {
    if (dwell_s > 0) addDwell(machine, sink, dwell_s, place);
  }
  void spindle(Spindle wanted) { setSpindle(machine, sink, wanted, place); }
};

void peckDrill(Cycle& c, bool full_retract) {
  double depth = c.r_level;
  while (depth > c.bottom && !c.sink.over_limit) {
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
  const Spindle turning = c.machine.modal.spindle;
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

void tap(Cycle& c, Spindle in) {
  c.feed(c.bottom);
  c.spindle(Spindle::off);
  c.spindle(in == Spindle::cw ? Spindle::ccw : Spindle::cw);
  c.feed(c.clear);
  c.spindle(Spindle::off);
  c.spindle(in);
}

void drillOne(Cycle& c) {
  const Spindle turning = c.machine.modal.spindle;
  switch (c.code) {
    case 730:
      peckDrill(c, false);
      return;
    case 830:
      peckDrill(c, true);
      return;
    case 740:  // tapping, left-hand
    case 840:
      tap(c, c.code == 840 ? Spindle::cw : Spindle::ccw);
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
      if (c.code == 880) addEvent(c.sink, EventKind::stop, 0, c.place);  // the operator retracts by hand
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

// What each of these words is for resuming.
Mode modeOf(char letter) {
  return letter == 'R'   ? Mode::cycle_r
         : letter == 'P' ? Mode::cycle_p
         : letter == 'Q' ? Mode::cycle_q
         : letter < 'L'  ? Mode::cycle_insert
                         : Mode::cycle_depth;
}

// The line's own word, or the one kept from the line before of the same cycle; absent where neither is there.
std::optional<double> sticky(const LineWords& w, CycleState& cycle, char letter) {
  const std::size_t index = LineWords::indexOf(letter);
  if (w.has(letter)) {
    cycle.sticky[index] = w.value(letter);
    cycle.present |= LineWords::bit(letter);
  }
  return (cycle.present & LineWords::bit(letter)) != 0 ? std::optional(cycle.sticky[index]) : std::nullopt;
}

int repeats(const Line& line, Sink& sink) {
  const LineWords& w = line.words;
  if (!w.has('L')) return 1;
  const Place place = placeOf(line, w.word('L'));
  const fact::Text text = textOf(line, w.word('L'));
  int l = 0;
  if (!nearInteger(w.value('L'), l) || l < 1) {
    const bool none = w.value('L') == 0;
    addProblem(sink, none ? ProblemKind::cycle_repeats_zero : ProblemKind::cycle_repeats_faulty, place, {text});
    return none ? 0 : 1;
  }
  if (l <= max_repeats) return l;
  addNotFollowed(sink, ProblemKind::too_many_repeats, place, {text, fact::Count{max_repeats}});
  return max_repeats;
}

bool dwells(int code) {
  return code == 820 || code == 860 || code == 880 || code == 890;
}

bool pecks(int code) {
  return code == 830 || code == 730;
}

// The words that the cycle takes; exporters also give Q and P to cycles that have no use for them.
void markUsed(LineWords& w, int code, bool strict) {
  w.used |= axis_letters | LineWords::bits('R', 'L');
  if (code == 870) w.used |= centre_letters;
  if (!strict || dwells(code)) w.used |= LineWords::bit('P');
  if (!strict || code == 830) w.used |= LineWords::bit('Q');
}

void setPeck(Cycle& c, std::optional<double> peck_mm) {
  const double whole = std::abs(c.r_level - c.bottom) + 1;
  c.peck = whole;  // in one go
  if (!peck_mm || *peck_mm <= 0) {
    addProblem(c.sink, ProblemKind::cycle_without_peck, c.place);
  } else if (whole / *peck_mm > max_pecks) {
    addNotFollowed(c.sink, ProblemKind::too_many_pecks, c.place, {fact::Count{max_pecks}});
  } else {
    c.peck = *peck_mm;
  }
}

// Drilling without a wait where one is asked for is what most machines then do.
void setDwell(Cycle& c, std::optional<double> seconds) {
  if (!seconds) {
    addProblem(c.sink, ProblemKind::cycle_dwell_missing, c.place);
  } else if (*seconds < 0) {
    addProblem(c.sink, ProblemKind::cycle_dwell_negative, c.place);
  } else {
    c.dwell_s = *seconds;
  }
}

void checkModes(const Cycle& c, const LineWords& w) {
  const ModalState& modal = c.machine.modal;
  if (c.code == 840 && modal.spindle != Spindle::cw)
    addProblem(c.sink, ProblemKind::tapping_spindle_not_clockwise, c.place);
  if ((c.code == 860 || c.code == 870 || c.code == 880) && modal.spindle == Spindle::off)
    addProblem(c.sink, ProblemKind::cycle_spindle_off, c.place);
  if (modal.inverse_time) addProblem(c.sink, ProblemKind::cycle_under_inverse_time, c.place);
  if (w.hasAny(rotary_letters)) addProblem(c.sink, ProblemKind::cycle_turns_axis, c.place);
}

// Notes what the cycle rests on besides its X, Y and Z words, for resuming.
void noteModes(const Cycle& c, const LineWords& w) {
  ResumeTracker& resuming = c.sink.resuming;
  resuming.use(modeSet(Mode::units, Mode::plane, Mode::distance, Mode::cycle_return));
  if (!c.machine.modal.incremental) useZero(c.machine, c.sink, c.axes.normal);
  if (!c.machine.modal.incremental && c.axes.normal == 2) resuming.use(modeSet(Mode::length_offset));
  useCuttingModes(c.machine, c.sink);
  const auto kept = [&](char letter) {
    if (w.has(letter)) {
      resuming.lose(modeSet(modeOf(letter)));
    } else {
      resuming.use(modeSet(modeOf(letter)));
    }
  };
  kept('R');
  kept(axis_letter[c.axes.normal]);
  if (dwells(c.code)) kept('P');
  if (pecks(c.code)) kept('Q');
  if (c.code == 870) {
    // All three, or what is left out was kept.
    const bool all = w.has('I') && w.has('J') && w.has('K');
    kept(all ? 'I' : w.has('I') ? 'J' : 'I');
  }
}

// Under G91 a word kept from a line under G90 is read as an increment; other controllers keep the place it meant. Said
// where the hole comes out otherwise.
void noteKeptAsIncrements(Cycle& c, const LineWords& w, double r, double bottom, double shift) {
  CycleState& kept = c.machine.cycle;
  const char depth = axis_letter[c.axes.normal];
  for (const char letter : {'R', depth}) {
    if (!w.has(letter)) continue;
    const std::uint32_t bit = LineWords::bit(letter);
    kept.absolute = c.machine.modal.incremental ? kept.absolute & ~bit : kept.absolute | bit;
  }
  if (!c.machine.modal.incremental || kept.increments_told) return;
  const bool r_kept = (kept.absolute & LineWords::bit('R')) != 0,
             depth_kept = (kept.absolute & LineWords::bit(depth)) != 0;
  const double other_r = r_kept ? r + shift : c.r_level, other_bottom = depth_kept ? bottom + shift : other_r + bottom;
  if (std::abs(other_bottom - c.bottom) < c.machine.modal.tolerance_mm()) return;
  kept.increments_told = true;
  addProblem(c.sink, ProblemKind::cycle_kept_as_increments, c.place,
             {fact::Length{c.bottom}, fact::Length{other_bottom}});
}

// Heights, peck and wait from the line's words and those kept; false, and said, where the depth is open.
bool readCycle(Cycle& c, const LineWords& w) {
  CycleState& kept = c.machine.cycle;
  const ModalState& modal = c.machine.modal;
  const double unit = modal.unit(), old_level = component(c.machine.position, c.axes.normal);
  const double shift = component(c.machine.offsets.shift(), c.axes.normal);
  const auto r = sticky(w, kept, 'R');
  const auto bottom = sticky(w, kept, axis_letter[c.axes.normal]);
  const auto q = sticky(w, kept, 'Q'), p = sticky(w, kept, 'P');
  if (!bottom) {
    const std::size_t n = c.axes.normal;
    addNotFollowed(c.sink, ProblemKind::cycle_without_depth, c.place, {fact::Axes{n == 0, n == 1, n == 2}});
    return false;
  }
  if (!r) addProblem(c.sink, ProblemKind::cycle_without_r, c.place);
  c.r_level = !r ? old_level : *r * unit + (modal.incremental ? old_level : shift);
  c.bottom = *bottom * unit + (modal.incremental ? c.r_level : shift);
  c.clear = modal.retract_to_r ? c.r_level : std::max(old_level, c.r_level);
  noteKeptAsIncrements(c, w, r ? *r * unit : old_level, *bottom * unit, shift);
  if (!modal.incremental) c.machine.known[c.axes.normal] = true;
  if (c.r_level < c.bottom) {
    addProblem(c.sink, ProblemKind::cycle_r_below_bottom, c.place, {fact::Length{c.r_level}, fact::Length{c.bottom}});
  }
  if (dwells(c.code)) setDwell(c, p);
  if (pecks(c.code)) setPeck(c, q ? std::optional(*q * unit) : std::nullopt);
  checkModes(c, w);
  return true;
}

// Where the next hole lies along an axis of the plane.
double nextPlace(MachineState& machine, const LineWords& w, std::size_t axis) {
  const char letter = axis_letter[axis];
  const double now = component(machine.position, axis);
  if (!w.has(letter)) return now;
  const double value = w.value(letter) * machine.modal.unit();
  if (machine.modal.incremental) return now + value;
  machine.known[axis] = true;
  return value + component(machine.offsets.shift(), axis);
}

void backBoreHole(Cycle& c, const LineWords& w, WorkPoint2 hole) {
  CycleState& kept = c.machine.cycle;
  const double unit = c.machine.modal.unit();
  const auto word = [&](std::size_t axis) { return sticky(w, kept, centre_letter[axis]).value_or(0) * unit; };
  const WorkPoint2 insert = hole + Vec2{word(c.axes.first), word(c.axes.second)};
  const double from = c.machine.modal.incremental ? c.bottom : component(c.machine.offsets.shift(), c.axes.normal);
  backBore(c, hole, insert, word(c.axes.normal) + from);
}

}  // namespace

void runCycle(Line& line, MachineState& machine, Sink& sink, int code, Place place) {
  LineWords& w = line.words;
  noteUse(sink, "canned-cycles", place);
  if (code == 740 || code == 840) noteUse(sink, "tapping", place);
  if (code >= 860 && code <= 880) noteUse(sink, "spindle-orientation", place);
  markUsed(w, code, sink.strict);
  if (machine.compensation.side != 0) {
    addProblem(sink, ProblemKind::cycle_under_compensation, place);
    machine.compensation = {};
  }
  noteIncrements(w, machine, sink, place);
  useAxisWords(w, machine, sink);
  machine.cycle.code = code;
  Cycle c{machine, sink, axesOf(machine.modal.plane), place, code};
  noteModes(c, w);
  if (!readCycle(c, w)) return;
  const int count = repeats(line, sink);
  machine.cycle.running = true;
  if (count > 0 && component(machine.position, c.axes.normal) < c.r_level) c.rapid(c.r_level);
  for (int i = 0; i < count && !sink.over_limit; ++i) {
    const double first = nextPlace(machine, w, c.axes.first);
    const WorkPoint2 hole{first, nextPlace(machine, w, c.axes.second)};
    c.across(hole);
    c.rapid(c.r_level);
    if (code == 870) {
      backBoreHole(c, w, hole);
    } else {
      drillOne(c);
    }
  }
  machine.cycle.running = false;
}

}  // namespace provecut::interpreter
