// Feed, speed, tool, spindle and the modal codes: items 2 to 18 of NISTIR 6556 Table 8.
#include "parser/interpreter/cutter_compensation.h"
#include "parser/interpreter/expression.h"
#include "parser/interpreter/moves.h"
#include "parser/interpreter/steps.h"

namespace provecut::interpreter {

namespace {

void setFeedMode(const Line& line, MachineState& machine, Sink& sink, const LineWords::Code& c) {
  ModalState& modal = machine.modal;
  const bool inverse = c.code == 930, per_turn = c.code == 950;
  sink.resuming.set(modeSet(Mode::feed_mode));
  if (inverse != modal.inverse_time || per_turn != modal.feed_per_turn) {
    // The old number means nothing in the new mode.
    modal.feed = -1;
    sink.resuming.lose(modeSet(Mode::feed));
  }
  modal.inverse_time = inverse;
  modal.feed_per_turn = per_turn;
  if (per_turn) noteUse(sink, "feed-per-revolution", placeOf(line, c));
  sink.program.modal.feed_mode_set = true;
}

// The value of a word that must not be below zero; absent, and said, where it is.
std::optional<double> notNegative(Line& line, Sink& sink, char letter, ProblemKind negative) {
  LineWords& w = line.words;
  w.used |= LineWords::bit(letter);
  if (w.value(letter) >= 0) return w.value(letter);
  addProblem(sink, negative, placeOf(line, w.word(letter)), {textOf(line, w.word(letter))});
  return std::nullopt;
}

void setFeed(Line& line, MachineState& machine, Sink& sink) {
  const auto feed = notNegative(line, sink, 'F', ProblemKind::feed_negative);
  if (!feed) return;
  sink.resuming.set(modeSet(Mode::feed));
  // A tool with a feed of its own had to wait for it. Where none follows, one feed is meant for all tools.
  Place& early = machine.cut_at_old_feed;
  if (early.line != 0 && *feed != machine.modal.feed)
    addProblem(sink, ProblemKind::feed_from_other_tool, early, {fact::Tool{machine.modal.tool}});
  early = {};
  machine.modal.feed = *feed;
  machine.modal.feed_before_tool = false;
}

void setSpeed(Line& line, MachineState& machine, Sink& sink) {
  const auto speed = notNegative(line, sink, 'S', ProblemKind::speed_negative);
  if (!speed) return;
  machine.modal.rpm = *speed;
  sink.resuming.set(modeSet(Mode::speed));
}

// T0 names no tool: what the job says is in the spindle then stays.
void putIn(const Input& input, MachineState& machine, Sink& sink, int tool, Place place) {
  ModalState& modal = machine.modal;
  if (tool == 0) tool = input.options.tool_in_spindle;
  machine.tools_called.insert(tool);
  machine.cut_at_old_feed = {};
  modal.feed_before_tool = tool != modal.tool && modal.tool != 0 && modal.feed > 0;
  modal.tool = tool;
  sink.resuming.set(modeSet(Mode::tool));
  addEvent(sink, EventKind::tool_change, tool, place);
}

// "T0101": two digits for the tool, two for its offset, as many machines with four-digit tool words have it. Nothing in
// the word says which it is; the tools at hand do, where they have the one and not the other.
int withoutOffset(const Input& input, const Line& line, Sink& sink, int number, Place place) {
  const fact::Text word = textOf(line, line.words.word('T'));
  const bool digits = word.text.size() == 5 && word.text.find_first_not_of("0123456789", 1) == std::string::npos;
  const int tool = number / 100, offset = number % 100;
  if (!digits || tool == 0 || (word.text[1] != '0' && tool != offset)) return number;
  const auto has = [&](int n) { return input.options.tool_diameter_mm.contains(n); };
  const bool split = has(tool) && !has(number) && !sink.strict;
  const auto count = [](int n) { return fact::Code{std::to_string(n)}; };
  addProblemOnce(sink, split ? ProblemKind::tool_with_offset : ProblemKind::tool_or_offset, place,
                 {word, count(tool), count(offset), count(number)});
  return split ? tool : number;
}

void selectTool(const Input& input, Line& line, MachineState& machine, Sink& sink) {
  LineWords& w = line.words;
  w.used |= LineWords::bit('T');
  const Place place = placeOf(line, w.word('T'));
  int number = 0;
  if (!nearInteger(w.value('T'), number) || number < 0) {
    addProblem(sink, ProblemKind::tool_number_faulty, place, {textOf(line, w.word('T'))});
    return;
  }
  number = withoutOffset(input, line, sink, number, place);
  machine.modal.selected_tool = number;
  sink.resuming.set(modeSet(Mode::selected_tool));
  // A machine without a tool changer: the T word is the change by hand.
  if (!input.uses_tool_change && !sink.strict) putIn(input, machine, sink, number, place);
}

void changeTool(const Input& input, MachineState& machine, Sink& sink, Place place) {
  noteUse(sink, "tool-change", place);
  setSpindle(machine, sink, Spindle::off, place);
  sink.resuming.lose(modeSet(Mode::spindle));
  sink.resuming.use(modeSet(Mode::selected_tool));
  const ModalState& modal = machine.modal;
  putIn(input, machine, sink, modal.selected_tool >= 0 ? modal.selected_tool : modal.tool, place);
}

void dwell(Line& line, const MachineState& machine, Sink& sink, Place place) {
  if (!line.words.has('P')) {
    addProblem(sink, ProblemKind::dwell_time_missing, place);
    return;
  }
  const auto seconds = notNegative(line, sink, 'P', ProblemKind::dwell_negative);
  if (seconds && *seconds > 0) addDwell(machine, sink, *seconds, place);
}

void setUnits(const Line& line, MachineState& machine, Sink& sink, const LineWords::Code& c) {
  const bool inch = (c.code == 200 || c.code == 700) != machine.modal.other_unit;
  if (inch != machine.modal.inch) refuseUnderCompensation(line, machine, sink, c);
  machine.modal.inch = inch;
  machine.modal.older_unit_code = c.code >= 700;
  sink.resuming.set(modeSet(Mode::units));
  sink.program.modal.units_set = true;
  if (c.code >= 700) {
    addProblemOnce(sink, inch ? ProblemKind::inch_by_older_code : ProblemKind::mm_by_older_code, placeOf(line, c),
                   {codeOf(line, c)});
  }
}

void setPlane(const Line& line, MachineState& machine, Sink& sink, const LineWords::Code& c) {
  if (c.code != 170) refuseUnderCompensation(line, machine, sink, c);
  machine.modal.plane = c.code == 170 ? Plane::xy : c.code == 180 ? Plane::zx : Plane::yz;
  sink.program.modal.plane_set = true;
  sink.resuming.set(modeSet(Mode::plane));
}

// A number beyond the tools is an offset of the machine's, unless the program's numbers have gone together before.
void checkLengthOffset(const Input& input, const Line& line, MachineState& machine, Sink& sink, int h) {
  const int tool = machine.modal.tool;
  if (h == 0 || tool <= 0) return;
  if (h == tool) {
    machine.length_of_own_tool = true;
    return;
  }
  const Word& word = line.words.word('H');
  const bool is_tool = input.options.tool_diameter_mm.contains(h) || machine.tools_called.contains(h);
  if (!is_tool && !machine.length_of_own_tool) return;
  addProblem(sink, is_tool ? ProblemKind::length_of_other_tool : ProblemKind::length_of_no_tool, placeOf(line, word),
             {textOf(line, word), fact::Tool{tool}});
}

// The tip is where the program says: lengths are taken as set at the machine.
void setLengthOffset(const Input& input, Line& line, MachineState& machine, Sink& sink, const LineWords::Code& c) {
  LineWords& w = line.words;
  machine.modal.length_offset = c.code == 430;
  machine.modal.length_of = -1;
  sink.resuming.set(modeSet(Mode::length_offset));
  if (c.code != 430) return;
  if (!w.has('H')) {
    addProblem(sink, ProblemKind::length_offset_unnamed, placeOf(line, c));
    return;
  }
  w.used |= LineWords::bit('H');
  const Place place = placeOf(line, w.word('H'));
  int h = 0;
  if (!nearInteger(w.value('H'), h) || h < 0) {
    addProblem(sink, ProblemKind::length_offset_faulty, place, {textOf(line, w.word('H'))});
    return;
  }
  machine.modal.length_of = h;
  checkLengthOffset(input, line, machine, sink, h);
}

// "G64 P0.01", the deviation allowed, is an extension.
void setPathControl(Line& line, MachineState& machine, Sink& sink, const LineWords::Code& c) {
  PathControlChange change{nextMotion(sink)};
  change.control = c.code == 610   ? PathControl::exact_path
                   : c.code == 611 ? PathControl::exact_stop
                                   : PathControl::as_set;
  if (c.code == 640 && !sink.strict) {
    if (line.words.has('P')) {
      if (const auto p = notNegative(line, sink, 'P', ProblemKind::tolerance_negative)) {
        change.control = PathControl::tolerance;
        change.tolerance_mm = *p * machine.modal.unit();
        machine.modal.path_tolerance_mm = change.tolerance_mm;
        sink.resuming.use(modeSet(Mode::units));
      }
    }
    line.words.used |= LineWords::bits('P', 'Q');
  }
  machine.modal.path_control = change.control;
  sink.resuming.set(modeSet(Mode::path_control));
  std::vector<PathControlChange>& changes = sink.program.path_control;
  const bool replaced = !changes.empty() && changes.back().before_motion == change.before_motion;
  if (replaced) changes.pop_back();
  changes.push_back(change);
}

void setSystem(const Input& input, const Line& line, MachineState& machine, Sink& sink, const LineWords::Code& c) {
  const int system = c.code <= 590 ? (c.code - 530) / 10 : 6 + c.code - 590;
  if (system != machine.modal.system || sink.strict) refuseUnderCompensation(line, machine, sink, c);
  selectSystem(input, machine, sink, system, placeOf(line, c));
  sink.program.modal.work_offset_set = true;
  sink.resuming.set(modeSet(Mode::work_offset));
}

void setGCodes(const Input& input, Line& line, MachineState& machine, Sink& sink) {
  LineWords& w = line.words;
  if (w.has(GGroup::non_modal) && w.code(GGroup::non_modal).code == 40)
    dwell(line, machine, sink, placeOf(line, w.code(GGroup::non_modal)));
  if (w.has(GGroup::plane)) setPlane(line, machine, sink, w.code(GGroup::plane));
  if (w.has(GGroup::units)) setUnits(line, machine, sink, w.code(GGroup::units));
  if (w.has(GGroup::radius_compensation)) {
    const LineWords::Code& c = w.code(GGroup::radius_compensation);
    if (c.code != 400) noteUse(sink, "cutter-compensation", placeOf(line, c));
    // What is on already cannot be switched on.
    if (c.code != 400) sink.resuming.use(modeSet(Mode::compensation, Mode::plane, Mode::tool));
    switchCompensation(input, line, machine, sink, c.code, placeOf(line, c));
    sink.resuming.set(modeSet(Mode::compensation));
  }
  if (w.has(GGroup::length_offset)) setLengthOffset(input, line, machine, sink, w.code(GGroup::length_offset));
  if (w.has(GGroup::coordinate_system)) setSystem(input, line, machine, sink, w.code(GGroup::coordinate_system));
  if (w.has(GGroup::path_control)) setPathControl(line, machine, sink, w.code(GGroup::path_control));
  if (w.has(GGroup::distance)) {
    machine.modal.incremental = w.code(GGroup::distance).code == 910;
    sink.program.modal.distance_set = true;
    sink.resuming.set(modeSet(Mode::distance));
  }
  if (w.has(GGroup::arc_distance)) {
    machine.modal.arc_centre_absolute = w.code(GGroup::arc_distance).code == 901;
    sink.resuming.set(modeSet(Mode::arc_centre));
  }
  if (w.has(GGroup::cycle_return)) {
    machine.modal.retract_to_r = w.code(GGroup::cycle_return).code == 990;
    sink.resuming.set(modeSet(Mode::cycle_return));
  }
}

void turnSpindle(const Line& line, MachineState& machine, Sink& sink, const LineWords::Code& c) {
  const bool cw = c.code == 3 || c.code == 13, ccw = c.code == 4 || c.code == 14;
  const Spindle wanted = cw ? Spindle::cw : ccw ? Spindle::ccw : Spindle::off;
  if (c.code > 5) {  // M13 and M14: with coolant
    machine.modal.flood = true;
    sink.resuming.set(modeSet(Mode::coolant));
  }
  setSpindle(machine, sink, wanted, placeOf(line, c));
  sink.resuming.set(modeSet(Mode::spindle));
  if (wanted != Spindle::off) sink.resuming.use(modeSet(Mode::speed));
}

// M7 and M8 can both be on; M9 ends both.
void setCoolant(const LineWords& w, MachineState& machine, Sink& sink) {
  ModalState& modal = machine.modal;
  const bool off = w.code(MGroup::coolant).code == 9;
  const bool other_stays = (modal.mist && !w.mist) || (modal.flood && !w.flood);
  if (!off && other_stays) sink.resuming.use(modeSet(Mode::coolant));
  modal.mist = !off && (modal.mist || w.mist);
  modal.flood = !off && (modal.flood || w.flood);
  sink.resuming.set(modeSet(Mode::coolant));
}

}  // namespace

void setSpindle(MachineState& machine, Sink& sink, Spindle wanted, Place place) {
  if (wanted == machine.modal.spindle) return;
  machine.modal.spindle = wanted;
  addEvent(sink, wanted == Spindle::off ? EventKind::spindle_stop : EventKind::spindle_start, machine.modal.rpm, place);
}

void runSettings(const Input& input, Line& line, MachineState& machine, Sink& sink) {
  const LineWords& w = line.words;
  if (w.has(GGroup::feed_mode)) setFeedMode(line, machine, sink, w.code(GGroup::feed_mode));
  if (w.has('F')) setFeed(line, machine, sink);
  if (w.has('S')) setSpeed(line, machine, sink);
  if (w.has('T')) selectTool(input, line, machine, sink);
  if (w.has(MGroup::tool_change)) changeTool(input, machine, sink, placeOf(line, w.code(MGroup::tool_change)));
  if (w.has(MGroup::spindle)) turnSpindle(line, machine, sink, w.code(MGroup::spindle));
  if (w.has(MGroup::coolant)) setCoolant(w, machine, sink);
  if (w.has(MGroup::overrides)) {
    machine.modal.overrides_off = w.code(MGroup::overrides).code == 49;
    sink.resuming.set(modeSet(Mode::overrides));
  }
  if (w.g_present != 0) setGCodes(input, line, machine, sink);
}

}  // namespace provecut::interpreter
