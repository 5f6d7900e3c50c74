// Feed, speed, tool, spindle and the modal codes: steps 2 to 18 of NISTIR 6556 Table 8.
#include <string>

#include "parser/base/quoted_text.h"
#include "parser/interpreter/cutter_compensation.h"
#include "parser/interpreter/expression.h"
#include "parser/interpreter/reading.h"

namespace provecut::interpreter {

namespace {

Place placeOfCode(const Reading& r, const LineWords::Code& c) {
  return placeOf(r, *c.word);
}

void setFeedMode(Reading& r, const LineWords::Code& c) {
  const bool inverse = c.code == 930, per_turn = c.code == 950;
  // The old number means nothing in the new mode.
  if (inverse != r.state.inverse_time || per_turn != r.state.feed_per_turn) r.state.feed = -1;
  r.state.inverse_time = inverse;
  r.state.feed_per_turn = per_turn;
  if (per_turn) noteUse(r, "feed-per-revolution", placeOfCode(r, c));
  r.program.modal.feed_mode_set = true;
}

void setFeed(Reading& r) {
  LineWords& w = r.line_words;
  w.used |= LineWords::bit('F');
  const double f = w.value('F');
  if (f < 0) {
    addProblem(r, "word-negative", placeOf(r, w.word('F')), shownWord(r, w.word('F')) + ": a feed is not below zero.",
               "The feed before it stays in force.");
    return;
  }
  r.state.feed = f;
  r.state.feed_before_tool = false;
}

void setSpeed(Reading& r) {
  LineWords& w = r.line_words;
  w.used |= LineWords::bit('S');
  if (w.value('S') < 0) {
    addProblem(r, "word-negative", placeOf(r, w.word('S')), shownWord(r, w.word('S')) + ": a speed is not below zero.",
               "The speed before it stays in force.");
    return;
  }
  r.state.rpm = w.value('S');
}

void putIn(Reading& r, int tool, Place place) {
  r.state.feed_before_tool = tool != r.state.tool && r.state.tool != 0 && r.state.feed > 0;
  r.state.tool = tool;
  addEvent(r, EventKind::tool_change, tool, place);
}

void selectTool(Reading& r) {
  LineWords& w = r.line_words;
  w.used |= LineWords::bit('T');
  int number = 0;
  if (!nearInteger(w.value('T'), number) || number < 0) {
    addProblem(r, "tool-number", placeOf(r, w.word('T')), shownWord(r, w.word('T')) + " is not a tool number.",
               "It is left out.");
    return;
  }
  r.state.selected_tool = number;
  // A machine without a tool changer: the T word stands for the change by hand.
  if (!r.uses_tool_change && !r.options.strict) putIn(r, number, placeOf(r, w.word('T')));
}

void changeTool(Reading& r, Place place) {
  noteUse(r, "tool-change", place);
  setSpindle(r, Spindle::off, place);
  putIn(r, r.state.selected_tool >= 0 ? r.state.selected_tool : r.state.tool, place);
}

void dwell(Reading& r, Place place) {
  LineWords& w = r.line_words;
  if (!w.has('P')) {
    addProblem(r, "dwell-time-missing", place, "G4 needs P, the seconds to wait.", "It does not wait.");
    return;
  }
  w.used |= LineWords::bit('P');
  if (w.value('P') < 0) {
    addProblem(r, "word-negative", placeOf(r, w.word('P')), shownWord(r, w.word('P')) + ": a time is not below zero.",
               "It does not wait.");
    return;
  }
  if (w.value('P') > 0) addDwell(r, w.value('P'), place);
}

void setUnits(Reading& r, const LineWords::Code& c) {
  const bool inch = c.code == 200 || c.code == 700;
  if (inch != r.state.inch) refuseUnderCompensation(r, c);
  r.state.inch = inch;
  r.program.modal.units_set = true;
  if (c.code >= 700) {
    addProblemOnce(r, "beyond-standard", placeOfCode(r, c),
                   shownWord(r, *c.word) + " is the older standards' code for units.",
                   inch ? "It is read as inches." : "It is read as millimetres.",
                   "Make sure that the machine reads it so; elsewhere it starts a cycle.");
  }
}

void setPlane(Reading& r, const LineWords::Code& c) {
  if (c.code != 170) refuseUnderCompensation(r, c);
  r.state.plane = c.code == 170 ? Plane::xy : c.code == 180 ? Plane::zx : Plane::yz;
  r.program.modal.plane_set = true;
}

// The tip is where the program says: lengths are taken as set at the machine.
void setLengthOffset(Reading& r, const LineWords::Code& c) {
  LineWords& w = r.line_words;
  r.state.length_offset = c.code == 430;
  if (c.code != 430) return;
  if (!w.has('H')) {
    tolerate(r, "", "length-offset-missing", placeOfCode(r, c), "G43 needs H, the tool whose length counts.",
             "The tool's own length is taken.");
    return;
  }
  w.used |= LineWords::bit('H');
  int h = 0;
  if (!nearInteger(w.value('H'), h) || h < 0) {
    addProblem(r, "length-offset-missing", placeOf(r, w.word('H')),
               shownWord(r, w.word('H')) + " is not the number of a length offset.", "The tool's own length is taken.");
  } else if (h != r.state.tool && h != 0 && r.state.tool > 0) {
    addProblem(r, "length-offset-of-other-tool", placeOf(r, w.word('H')),
               shownWord(r, w.word('H')) + " is the length of another tool than the one in the spindle, tool " +
                   std::to_string(r.state.tool) + ".",
               "The tool's own length is taken.",
               "With the wrong length the tip stands too high or too deep by the difference.");
  }
}

// "G64 P0.01", the deviation allowed, is an extension.
void setPathControl(Reading& r, const LineWords::Code& c) {
  LineWords& w = r.line_words;
  PathControlChange change{static_cast<std::uint32_t>(r.program.motions.size())};
  change.control = c.code == 610   ? PathControl::exact_path
                   : c.code == 611 ? PathControl::exact_stop
                                   : PathControl::as_set;
  if (c.code == 640 && !r.options.strict) {
    if (w.has('P') && w.value('P') < 0) {
      addProblem(r, "word-negative", placeOf(r, w.word('P')),
                 shownWord(r, w.word('P')) + ": a tolerance is not below zero.", "It is left out.");
    } else if (w.has('P')) {
      change.control = PathControl::tolerance;
      change.tolerance_mm = w.value('P') * r.state.unit();
    }
    w.used |= LineWords::bits('P', 'Q');
  }
  std::vector<PathControlChange>& changes = r.program.path_control;
  const bool replaced = !changes.empty() && changes.back().before_motion == change.before_motion;
  if (replaced)
    changes.back() = change;
  else
    changes.push_back(change);
}

}  // namespace

void setSpindle(Reading& r, Spindle wanted, Place place) {
  if (wanted == r.state.spindle) return;
  r.state.spindle = wanted;
  addEvent(r, wanted == Spindle::off ? EventKind::spindle_stop : EventKind::spindle_start, r.state.rpm, place);
}

void runSettings(Reading& r) {
  LineWords& w = r.line_words;
  if (w.has(GGroup::feed_mode)) setFeedMode(r, w.code(GGroup::feed_mode));
  if (w.has('F')) setFeed(r);
  if (w.has('S')) setSpeed(r);
  if (w.has('T')) selectTool(r);
  if (w.has(MGroup::tool_change)) changeTool(r, placeOfCode(r, w.code(MGroup::tool_change)));
  if (w.has(MGroup::spindle)) {
    const LineWords::Code& c = w.code(MGroup::spindle);
    setSpindle(r, c.code == 3 ? Spindle::cw : c.code == 4 ? Spindle::ccw : Spindle::off, placeOfCode(r, c));
  }
  if (w.g_present == 0) return;
  if (w.has(GGroup::non_modal) && w.code(GGroup::non_modal).code == 40)
    dwell(r, placeOfCode(r, w.code(GGroup::non_modal)));
  if (w.has(GGroup::plane)) setPlane(r, w.code(GGroup::plane));
  if (w.has(GGroup::units)) setUnits(r, w.code(GGroup::units));
  if (w.has(GGroup::radius_compensation)) {
    const LineWords::Code& c = w.code(GGroup::radius_compensation);
    if (c.code != 400) noteUse(r, "cutter-compensation", placeOfCode(r, c));
    switchCompensation(r, c.code, placeOfCode(r, c));
  }
  if (w.has(GGroup::length_offset)) setLengthOffset(r, w.code(GGroup::length_offset));
  if (w.has(GGroup::coordinate_system)) {
    const LineWords::Code& c = w.code(GGroup::coordinate_system);
    const int system = c.code <= 590 ? (c.code - 530) / 10 : 6 + c.code - 590;
    if (system != r.state.system || r.options.strict) refuseUnderCompensation(r, c);
    selectSystem(r, system, placeOfCode(r, c));
    r.program.modal.work_offset_set = true;
  }
  if (w.has(GGroup::path_control)) setPathControl(r, w.code(GGroup::path_control));
  if (w.has(GGroup::distance)) {
    r.state.incremental = w.code(GGroup::distance).code == 910;
    r.program.modal.distance_set = true;
  }
  if (w.has(GGroup::arc_distance)) r.state.arc_centre_absolute = w.code(GGroup::arc_distance).code == 901;
  if (w.has(GGroup::cycle_return)) r.state.retract_to_r = w.code(GGroup::cycle_return).code == 990;
}

}  // namespace provecut::interpreter
