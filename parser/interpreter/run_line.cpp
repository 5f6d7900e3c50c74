// One line in the order of NISTIR 6556 Table 8.
#include <algorithm>

#include "parser/interpreter/cutter_compensation.h"
#include "parser/interpreter/moves.h"
#include "parser/interpreter/steps.h"
#include "parser/program/plane_axes.h"

namespace provecut::interpreter {

namespace {

// From the first to the last of the words that shape a move.
Place moveSpan(const Line& line) {
  constexpr std::uint32_t shaping = axis_letters | rotary_letters | centre_letters | LineWords::bit('R');
  const std::vector<Word>& words = line.block.words;
  Place span{line.number, 0, 0};
  for (const Word& w : words) {
    if ((shaping & LineWords::bit(w.letter)) == 0) continue;
    if (span.column == 0) span.column = w.column;
    span.end_column = w.end_column;
  }
  if (span.column == 0 && !words.empty()) return {line.number, words.front().column, words.back().end_column};
  return span;
}

void runStraight(Line& line, MachineState& machine, Sink& sink, MotionKind kind, Place place) {
  LineWords& w = line.words;
  w.used |= axis_letters;
  if (!w.hasAny(axis_letters)) return;
  if (kind == MotionKind::feed && machine.modal.inverse_time && !w.has('F'))
    addProblem(sink, ProblemKind::feed_missing_inverse_time, place);
  noteIncrements(w, machine, sink, place);
  useAxisWords(w, machine, sink);
  const WorkPoint end = targetOf(w, machine);
  if (machine.compensation.side != 0) {
    compensatedLine(machine, sink, kind, end, place);
  } else {
    addMove(machine, sink, kind, end, place);
  }
}

// Axis words with no motion code in force. Many machines go back to the motion before the cycle.
void runWithoutMode(Line& line, MachineState& machine, Sink& sink, Place place) {
  const bool none_before = machine.modal.straight == 800;
  if (none_before && !machine.modal.cycle_cancelled) {
    line.words.used |= axis_letters;
    addNotFollowed(sink, ProblemKind::motion_mode_missing, place);
    return;
  }
  // With nothing before it, G80 leaves most controllers in G0 (common practice, no source).
  const bool rapid = none_before || machine.modal.straight == 0;
  addProblem(sink,
             none_before ? ProblemKind::motion_mode_none_before
             : rapid     ? ProblemKind::motion_mode_rapid_assumed
                         : ProblemKind::motion_mode_feed_assumed,
             place);
  runStraight(line, machine, sink, rapid ? MotionKind::rapid : MotionKind::feed, place);
}

// The words that it kept are forgotten.
void endCycle(MachineState& machine, Sink& sink) {
  machine.cycle = {};
  sink.resuming.lose(modeSet(Mode::cycle_r, Mode::cycle_depth, Mode::cycle_p, Mode::cycle_q, Mode::cycle_insert));
}

// `code`: ten times the G code in force.
void runMotion(const Input& input, Line& line, MachineState& machine, Sink& sink, int code, Place place) {
  if (code != machine.cycle.code) endCycle(machine, sink);
  if (code == 0 || code == 10) {
    runStraight(line, machine, sink, code == 0 ? MotionKind::rapid : MotionKind::feed, place);
  } else if (code == 20 || code == 30) {
    runArc(line, machine, sink, code == 20, place);
  } else if (isProbe(code)) {
    runProbe(input, line, machine, sink, place);
  } else if (isCycle(code)) {
    runCycle(line, machine, sink, code, place);
  } else if (line.words.hasAny(axis_letters)) {
    runWithoutMode(line, machine, sink, place);
  }
}

void noteRotary(Line& line, Sink& sink, Place place) {
  line.words.used |= rotary_letters;
  if (sink.tally.said_once.insert("rotary").second) addNotFollowed(sink, ProblemKind::rotary_axis, place);
}

// Offsets and moves by machine coordinates; true when the line's axis words are taken by it.
bool runNonModal(const Input& input, Line& line, MachineState& machine, Sink& sink) {
  const LineWords::Code& c = line.words.code(GGroup::non_modal);
  const Place place = placeOf(line, c);
  if (c.code == 40 || c.code == 530) return false;
  if (c.code != 100) refuseUnderCompensation(line, machine, sink, c);
  if (c.code == 100) runDataSetting(input, line, machine, sink, place);
  if (c.code == 280 || c.code == 300) runReferenceReturn(input, line, machine, sink, c.code, place);
  if (c.code == 520) runLocalOffset(line, machine, sink, place);
  if (c.code >= 920) runAxisOffset(line, machine, sink, c.code, place);
  const bool takes_axes = c.code <= 300 || c.code == 520 || c.code == 920;
  if (takes_axes && line.words.has(GGroup::motion) && line.words.code(GGroup::motion).code != 800) {
    const LineWords::Code& motion = line.words.code(GGroup::motion);
    addProblem(sink, ProblemKind::axis_words_claimed_twice, placeOf(line, motion),
               {codeOf(line, motion), codeOf(line, c)});
  }
  return takes_axes;
}

void runInMachineFrame(const Input& input, Line& line, MachineState& machine, Sink& sink, int code) {
  const LineWords::Code& c = line.words.code(GGroup::non_modal);
  refuseUnderCompensation(line, machine, sink, c);
  if (code != 0 && code != 10) addProblem(sink, ProblemKind::machine_move_without_straight, placeOf(line, c));
  if (line.words.hasAny(axis_letters)) {
    runMachineMove(input, line, machine, sink, code == 10 ? MotionKind::feed : MotionKind::rapid, moveSpan(line));
  } else {
    addProblem(sink, ProblemKind::machine_move_without_axis, placeOf(line, c));
  }
}

ProblemKind withoutAxis(int code) {
  if (isCycle(code)) return ProblemKind::cycle_without_axis;
  if (isProbe(code)) return ProblemKind::probe_without_axis;
  return code == 20 || code == 30 ? ProblemKind::arc_without_axis : ProblemKind::motion_without_axis;
}

// A motion code, and nothing to move by.
void keepMotionMode(const Line& line, MachineState& machine, Sink& sink, const LineWords::Code& c) {
  if (c.code != machine.cycle.code) endCycle(machine, sink);
  // A word that could not be read has been spoken of already.
  if (c.code != 800 && !line.words.hasAny(rotary_letters) && line.block.faults.empty())
    addProblem(sink, withoutAxis(c.code), placeOf(line, c), {codeOf(line, c)});
}

// A code that is not followed takes the axis words: they are no move of the motion code in force. True where it did.
bool runNotFollowed(Line& line, MachineState& machine, Sink& sink) {
  LineWords& w = line.words;
  const LineWords::Code& c = w.not_followed;
  const Place place = placeOf(line, c);
  const fact::Axes named{w.has('X'), w.has('Y'), w.has('Z')};
  if (!w.hasAny(axis_letters)) {
    addNotFollowed(sink, ProblemKind::code_not_followed, place, {codeOf(line, c)});
    return false;
  }
  endCycle(machine, sink);
  const AxisUse use = axisUse(c.code);
  if (use == AxisUse::path) {
    addNotFollowed(sink, ProblemKind::path_not_followed, place, {codeOf(line, c)});
    if (isModalPath(c.code)) {
      machine.modal.motion = machine.modal.straight = 10;
      sink.resuming.set(modeSet(Mode::motion));
    }
    runStraight(line, machine, sink, MotionKind::feed, moveSpan(line));
  } else if (use == AxisUse::somewhere) {
    addNotFollowed(sink, ProblemKind::cycle_not_followed, place, {codeOf(line, c)});
    machine.known = {machine.known[0] && !named.x, machine.known[1] && !named.y, false};
    machine.lost = {machine.lost[0] || named.x, machine.lost[1] || named.y, true};
    machine.start_known = machine.known;
    sayAgain(sink, ProblemKind::cut_at_unknown_place);
  } else {
    addNotFollowed(sink, ProblemKind::frame_not_followed, place, {codeOf(line, c)});
  }
  w.used |= axis_letters;
  return true;
}

// Items 19 and 20: offsets, then motion.
void runMoves(const Input& input, Line& line, MachineState& machine, Sink& sink) {
  const LineWords& w = line.words;
  if (w.not_followed.word && runNotFollowed(line, machine, sink)) return;
  const bool machine_frame = w.has(GGroup::non_modal) && w.code(GGroup::non_modal).code == 530;
  const bool axes_taken = w.has(GGroup::non_modal) && runNonModal(input, line, machine, sink);
  const bool explicit_motion = w.has(GGroup::motion);
  if (explicit_motion) {
    machine.modal.motion = w.code(GGroup::motion).code;
    machine.modal.cycle_cancelled = machine.modal.cycle_cancelled || machine.modal.motion == 800;
    sink.resuming.set(modeSet(Mode::motion));
  }
  const int code = machine.modal.motion;
  if (code == 0 || code == 10) machine.modal.straight = code;
  if (axes_taken) {
    if (explicit_motion) endCycle(machine, sink);
    return;
  }
  if (w.hasAny(rotary_letters)) noteRotary(line, sink, moveSpan(line));
  const bool arc = code == 20 || code == 30;
  const bool moves = w.hasAny(axis_letters) || (arc && w.hasAny(centre_letters | LineWords::bit('R')));
  if (machine_frame || moves) sink.resuming.use(modeSet(Mode::motion));
  if (machine_frame) {
    runInMachineFrame(input, line, machine, sink, code);
  } else if (moves) {
    runMotion(input, line, machine, sink, code, moveSpan(line));
  } else if (explicit_motion) {
    keepMotionMode(line, machine, sink, w.code(GGroup::motion));
  }
}

// Item 21, with the resets of M2 and M30 that anything after them can see (NISTIR 6556 3.6.1).
void stop(const Line& line, MachineState& machine, Sink& sink, const LineWords::Code& c) {
  const Place place = placeOf(line, c);
  if (c.code == 0 || c.code == 60 || c.code == 1) {
    addEvent(sink, c.code == 1 ? EventKind::optional_stop : EventKind::stop, 0, place);
    return;
  }
  endCompensation(machine);
  setSpindle(machine, sink, Spindle::off, place);
  addEvent(sink, EventKind::end, 0, place);
  machine.ended = machine.ended_by_word = true;
}

// The centre letter along the plane's normal on a helix: its pitch in some dialects; the end point says the same.
bool isPitch(const Line& line, const MachineState& machine, char letter) {
  const std::size_t normal = axesOf(machine.modal.plane).normal;
  const bool arc = machine.modal.motion == 20 || machine.modal.motion == 30;
  return arc && letter == centre_letter[normal] && line.words.has(axis_letter[normal]);
}

// Words that no code on the line has taken.
void reportUnused(const Line& line, const MachineState& machine, Sink& sink) {
  const LineWords& w = line.words;
  for (const Word& word : line.block.words) {
    if (word.letter == 'G' || word.letter == 'M') continue;
    if ((w.present & ~w.used & LineWords::bit(word.letter)) == 0 || &w.word(word.letter) != &word) continue;
    // "K0", "H0": exporters write them, and without a value they can do nothing anywhere.
    if (w.value(word.letter) == 0 && !sink.strict) continue;
    if (isPitch(line, machine, word.letter) && !sink.strict) continue;
    addProblem(sink, ProblemKind::word_unused, placeOf(line, word),
               {fact::Code{std::string(1, word.letter)}, textOf(line, word)});
  }
}

}  // namespace

void runLine(const Input& input, ProgramFlow& flow, Line& line, MachineState& machine, Sink& sink) {
  const LineWords& w = line.words;
  if ((w.g_present | w.m_present) != 0 || w.hasAny(LineWords::bits('F', 'S', 'T')))
    runSettings(input, line, machine, sink);
  runMoves(input, line, machine, sink);
  if (w.has(MGroup::subprogram)) {
    const LineWords::Code& c = w.code(MGroup::subprogram);
    const Place place = placeOf(line, c);
    noteUse(sink, "subprograms", place);
    if (c.code == 98) {
      flow.callSubprogram(line, place);
    } else {
      flow.endSubprogram(place);
    }
  }
  if (w.has(MGroup::stopping)) stop(line, machine, sink, w.code(MGroup::stopping));
  if ((w.present & ~w.used) != 0 && !w.unknown_code) reportUnused(line, machine, sink);
}

}  // namespace provecut::interpreter
