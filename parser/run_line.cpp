#include <algorithm>
#include <cmath>
#include <string>

#include "parser/expression.h"
#include "parser/quoted_text.h"
#include "parser/reading.h"

namespace provecut {

namespace {

Place placeOfCode(const Reading& r, const LineWords::Code& c) { return placeOf(r, *c.word); }

// From the first to the last of the words that shape a move, the motion code included.
Place moveSpan(const Reading& r) {
  constexpr std::uint32_t shaping = axis_letters | rotary_letters | LineWords::bit('I') | LineWords::bit('J') |
                                    LineWords::bit('K') | LineWords::bit('R');
  Place span{r.line_number, 0, 0};
  for (const Word& w : r.block.words) {
    if ((shaping & LineWords::bit(w.letter)) == 0) continue;
    if (span.column == 0) span.column = w.column;
    span.end_column = w.end_column;
  }
  if (span.column == 0 && !r.block.words.empty()) {
    span.column = r.block.words.front().column;
    span.end_column = r.block.words.back().end_column;
  }
  return span;
}

void setSpindle(Reading& r, Spindle wanted, Place place) {
  if (wanted == r.state.spindle) return;
  r.state.spindle = wanted;
  addEvent(r, wanted == Spindle::off ? EventKind::spindle_stop : EventKind::spindle_start, r.state.rpm, place);
}

void setFeed(Reading& r) {
  LineWords& w = r.line_words;
  w.used |= LineWords::bit('F');
  const double f = w.value('F');
  if (f < 0) {
    addProblem(r, "word-out-of-range", placeOf(r, w.word('F')), shownWord(r, w.word('F')) + ": a feed is not below zero.",
               "The feed before it stays in force.");
    return;
  }
  r.state.feed = f;
}

void setSpeed(Reading& r) {
  LineWords& w = r.line_words;
  w.used |= LineWords::bit('S');
  if (w.value('S') < 0) {
    addProblem(r, "word-out-of-range", placeOf(r, w.word('S')), shownWord(r, w.word('S')) + ": a speed is not below zero.",
               "The speed before it stays in force.");
    return;
  }
  r.state.rpm = w.value('S');
}

void selectTool(Reading& r) {
  LineWords& w = r.line_words;
  w.used |= LineWords::bit('T');
  int number = 0;
  if (!nearInteger(w.value('T'), number) || number < 0) {
    addProblem(r, "tool-number", placeOf(r, w.word('T')), shownWord(r, w.word('T')) + " is not a tool number.", "It is left out.");
    return;
  }
  r.state.selected_tool = number;
  if (!r.uses_tool_change) {
    // A machine without a tool changer: the T word stands for the change by hand.
    r.state.tool = number;
    addEvent(r, EventKind::tool_change, number, placeOf(r, w.word('T')));
  }
}

void changeTool(Reading& r, Place place) {
  if (r.state.selected_tool >= 0) r.state.tool = r.state.selected_tool;
  setSpindle(r, Spindle::off, place);
  addEvent(r, EventKind::tool_change, r.state.tool, place);
}

void dwell(Reading& r, Place place) {
  LineWords& w = r.line_words;
  if (!w.has('P')) {
    // Some exporters write the seconds as X, S or F.
    addProblem(r, "word-missing", place, "G4 needs P, the seconds to wait.", "It does not wait.");
    return;
  }
  w.used |= LineWords::bit('P');
  if (w.value('P') < 0) {
    addProblem(r, "word-out-of-range", placeOf(r, w.word('P')), shownWord(r, w.word('P')) + ": a time is not below zero.", "It does not wait.");
    return;
  }
  addDwell(r, w.value('P'), place);
}

void setUnits(Reading& r, const LineWords::Code& c) {
  r.state.inch = c.code == 200 || c.code == 700;
  r.program.modal.units_set = true;
  if (c.code >= 700) {
    addProblemOnce(r, "beyond-standard", placeOfCode(r, c),
                   shownWord(r, *c.word) + " is the older standards' code for units.",
                   r.state.inch ? "It is read as inches." : "It is read as millimetres.",
                   "Make sure that the machine reads it so; elsewhere it starts a cycle.");
  }
}

void setLengthOffset(Reading& r, const LineWords::Code& c) {
  LineWords& w = r.line_words;
  if (c.code != 430) return;
  if (!w.has('H')) {
    if (r.options.strict) addProblem(r, "word-missing", placeOfCode(r, c), "G43 needs H, the tool whose length counts.", "It is left out.");
    return;
  }
  w.used |= LineWords::bit('H');
  int h = 0;
  if (!nearInteger(w.value('H'), h) || h < 0) {
    addProblem(r, "word-out-of-range", placeOf(r, w.word('H')), shownWord(r, w.word('H')) + " is not the number of a length offset.",
               "The tool's own length is taken.");
  } else if (h != r.state.tool && h != 0 && r.state.tool > 0) {
    addProblem(r, "length-offset-of-other-tool", placeOf(r, w.word('H')),
               shownWord(r, w.word('H')) + " is the length of another tool than the one in the spindle, tool " + std::to_string(r.state.tool) + ".",
               "The tool's own length is taken.", "With the wrong length the tip stands too high or too deep by the difference.");
  }
}

// Steps 2 to 18 of NISTIR 6556 Table 8.
void runSettings(Reading& r) {
  LineWords& w = r.line_words;
  ModalUse& use = r.program.modal;
  if (w.has(GGroup::feed_mode)) {
    const bool inverse = w.code(GGroup::feed_mode).code == 930;
    if (inverse != r.state.inverse_time) r.state.feed = -1;  // the old number means nothing in the new mode
    r.state.inverse_time = inverse;
    use.feed_mode_set = true;
  }
  if (w.has('F')) setFeed(r);
  if (w.has('S')) setSpeed(r);
  if (w.has('T')) selectTool(r);
  if (w.has(MGroup::tool_change)) changeTool(r, placeOfCode(r, w.code(MGroup::tool_change)));
  if (w.has(MGroup::spindle)) {
    const LineWords::Code& c = w.code(MGroup::spindle);
    setSpindle(r, c.code == 3 ? Spindle::cw : c.code == 4 ? Spindle::ccw : Spindle::off, placeOfCode(r, c));
  }
  if (w.has(GGroup::non_modal) && w.code(GGroup::non_modal).code == 40) dwell(r, placeOfCode(r, w.code(GGroup::non_modal)));
  if (w.has(GGroup::plane)) {
    const int code = w.code(GGroup::plane).code;
    r.state.plane = code == 170 ? Plane::xy : code == 180 ? Plane::zx : Plane::yz;
    use.plane_set = true;
  }
  if (w.has(GGroup::units)) setUnits(r, w.code(GGroup::units));
  if (w.has(GGroup::radius_compensation)) {
    const LineWords::Code& c = w.code(GGroup::radius_compensation);
    if (c.code != 400) {
      w.used |= LineWords::bit('D');
      addNotFollowed(r, "not-followed", placeOfCode(r, c), shownWord(r, *c.word) + ": cutter radius compensation is not followed.",
                     "The tool is taken along the path as written.");
    }
  }
  if (w.has(GGroup::length_offset)) setLengthOffset(r, w.code(GGroup::length_offset));
  if (w.has(GGroup::coordinate_system)) {
    const LineWords::Code& c = w.code(GGroup::coordinate_system);
    selectSystem(r, c.code <= 590 ? (c.code - 530) / 10 : 6 + c.code - 590, placeOfCode(r, c));
    use.work_offset_set = true;
  }
  if (w.has(GGroup::path_control)) w.used |= LineWords::bit('P') | LineWords::bit('Q');
  if (w.has(GGroup::distance)) {
    r.state.incremental = w.code(GGroup::distance).code == 910;
    use.distance_set = true;
  }
  if (w.has(GGroup::arc_distance)) r.state.arc_centre_absolute = w.code(GGroup::arc_distance).code == 901;
  if (w.has(GGroup::cycle_return)) r.state.retract_to_r = w.code(GGroup::cycle_return).code == 990;
}

void runProbe(Reading& r, Place place) {
  addProblemOnce(r, "probe-assumed", place, "A probing move stops where the probe touches.",
                 "It is taken to reach the end as written.");
  const bool fresh = !r.known[0] || !r.known[1] || !r.known[2];
  const Vec3 end = targetOf(r);
  addMotion(r, MotionKind::probe, end, place);
  (void)fresh;
  for (int axis = 0; axis < 3; ++axis) {
    const double value = (axis == 0 ? end.x - r.origin.x - r.g92.x : axis == 1 ? end.y - r.origin.y - r.g92.y
                                                                               : end.z - r.origin.z - r.g92.z);
    r.parameters.set(5061 + axis, value / r.state.unit());
  }
}

// Step 20. `code`: ten times the G code.
void runMotion(Reading& r, int code, Place place) {
  LineWords& w = r.line_words;
  if (code != r.cycle.code) r.cycle = {};
  switch (code) {
    case 0: case 10:
      w.used |= axis_letters;
      if (w.hasAny(axis_letters)) addMotion(r, code == 0 ? MotionKind::rapid : MotionKind::feed, targetOf(r), place);
      return;
    case 20: case 30: runArc(r, code == 20, place); return;
    case 382:
      w.used |= axis_letters;
      runProbe(r, place);
      return;
    default: break;
  }
  if (isCycle(code)) {
    runCycle(r, code, place);
    return;
  }
  if (w.hasAny(axis_letters)) {
    w.used |= axis_letters;
    addNotFollowed(r, "motion-mode-missing", place, "Axis words with no motion code in force (G80, or none yet).", "They are left out.");
  }
}

void warnRotary(Reading& r, Place place) {
  LineWords& w = r.line_words;
  w.used |= rotary_letters;
  if (r.said_once.contains("rotary")) return;
  r.said_once.insert("rotary");
  addNotFollowed(r, "not-followed", place, "The program turns a rotary axis (A, B or C); that is not followed.", "Only X, Y and Z are followed.");
}

void stop(Reading& r, const LineWords::Code& c) {
  const Place place = placeOfCode(r, c);
  switch (c.code) {
    case 0: case 60: addEvent(r, EventKind::stop, 0, place); return;
    case 1: addEvent(r, EventKind::optional_stop, 0, place); return;
    default: break;
  }
  setSpindle(r, Spindle::off, place);
  addEvent(r, EventKind::end, 0, place);
  r.ended = true;
}

// Words that no code on the line has taken.
void reportUnused(Reading& r) {
  const LineWords& w = r.line_words;
  for (const Word& word : r.block.words) {
    if (word.letter == 'G' || word.letter == 'M') continue;
    const std::uint32_t bit = LineWords::bit(word.letter);
    if ((w.present & ~w.used & bit) == 0 || &w.word(word.letter) != &word) continue;
    addProblem(r, "word-unused", placeOf(r, word), "Nothing on this line uses " + shownWord(r, word) + ".", "It is left out.");
  }
}

}  // namespace

void runLine(Reading& r) {
  LineWords& w = r.line_words;
  constexpr std::uint32_t setting_words = LineWords::bit('F') | LineWords::bit('S') | LineWords::bit('T');
  if ((w.g_present | w.m_present) != 0 || w.hasAny(setting_words)) runSettings(r);

  bool axes_taken = false, machine_frame = false;
  if (w.has(GGroup::non_modal)) {
    const LineWords::Code& c = w.code(GGroup::non_modal);
    axes_taken = c.code == 100 || c.code == 280 || c.code == 300 || (c.code >= 920 && c.code <= 923);
    machine_frame = c.code == 530;
    if (c.code == 100) runDataSetting(r, placeOfCode(r, c));
    if (c.code == 280 || c.code == 300) runReferenceReturn(r, c.code, placeOfCode(r, c));
    if (c.code >= 920) runAxisOffset(r, c.code, placeOfCode(r, c));
  }

  const bool explicit_motion = w.has(GGroup::motion);
  if (explicit_motion) r.state.motion = w.code(GGroup::motion).code;
  const int code = r.state.motion;
  if (!axes_taken) {
    constexpr std::uint32_t centre = LineWords::bit('I') | LineWords::bit('J') | LineWords::bit('K') | LineWords::bit('R');
    const bool arc = code == 20 || code == 30;
    const bool moves = w.hasAny(axis_letters) || (arc && w.hasAny(centre)) || (explicit_motion && code == 382);
    if (w.hasAny(rotary_letters)) warnRotary(r, moveSpan(r));
    if (machine_frame) {
      if (code != 0 && code != 10) {
        addProblem(r, "modal-conflict", placeOfCode(r, w.code(GGroup::non_modal)), "G53 goes with G0 or G1 only.", "It is taken as a rapid.");
      }
      if (w.hasAny(axis_letters)) runMachineMove(r, code == 10 ? MotionKind::feed : MotionKind::rapid, moveSpan(r));
    } else if (moves) {
      runMotion(r, code, moveSpan(r));
    } else if (explicit_motion && code != r.cycle.code) {
      r.cycle = {};
    }
  } else if (explicit_motion) {
    r.cycle = {};
  }
  if (w.has(MGroup::subprogram)) {
    const LineWords::Code& c = w.code(MGroup::subprogram);
    w.used |= LineWords::bit('P') | LineWords::bit('L');
    addNotFollowed(r, "not-followed", placeOfCode(r, c), shownWord(r, *c.word) + ": subprograms are not followed.", "It is left out.");
  }
  if (w.has(MGroup::stopping)) stop(r, w.code(MGroup::stopping));
  if ((w.present & ~w.used) != 0) reportUnused(r);
}

}  // namespace provecut
