// One line in the order of NISTIR 6556 Table 8.
#include <algorithm>
#include <string>

#include "parser/base/quoted_text.h"
#include "parser/interpreter/cutter_compensation.h"
#include "parser/interpreter/reading.h"

namespace provecut::interpreter {

namespace {

Place placeOfCode(const Reading& r, const LineWords::Code& c) {
  return placeOf(r, *c.word);
}

// From the first to the last of the words that shape a move.
Place moveSpan(const Reading& r) {
  constexpr std::uint32_t shaping = axis_letters | rotary_letters | centre_letters | LineWords::bit('R');
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

void runStraight(Reading& r, MotionKind kind, Place place) {
  LineWords& w = r.line_words;
  w.used |= axis_letters;
  if (!w.hasAny(axis_letters)) return;
  if (kind == MotionKind::feed && r.state.inverse_time && !w.has('F')) {
    addProblem(r, "feed-missing-inverse-time", place, "Under G93 each feed move needs its own F.",
               "The F before it is taken.");
  }
  noteIncrements(r, place);
  const WorkPoint end = targetOf(r);
  if (r.compensation.side != 0) {
    compensatedLine(r, kind, end, place);
  } else {
    addMotion(r, kind, end, place);
  }
}

// Step 20. `code`: ten times the G code.
void runMotion(Reading& r, int code, Place place) {
  if (code != r.cycle.code) r.cycle = {};
  if (code == 0 || code == 10) {
    runStraight(r, code == 0 ? MotionKind::rapid : MotionKind::feed, place);
  } else if (code == 20 || code == 30) {
    runArc(r, code == 20, place);
  } else if (code == 382) {
    runProbe(r, place);
  } else if (isCycle(code)) {
    runCycle(r, code, place);
  } else if (r.line_words.hasAny(axis_letters)) {
    const char* message = "Axis words with no motion code in force (G80, or none yet).";
    if (r.state.straight == 800) {
      r.line_words.used |= axis_letters;
      addNotFollowed(r, "motion-mode-missing", place, message, "They are left out.");
    } else {
      // Many machines go back to the motion before the cycle.
      const bool rapid = r.state.straight == 0;
      addProblem(r, "motion-mode-missing", place, message,
                 rapid ? "The rapid (G0) before the cycle is taken up again."
                       : "The feed (G1) before the cycle is taken up again.");
      runStraight(r, rapid ? MotionKind::rapid : MotionKind::feed, place);
    }
  }
}

void warnRotary(Reading& r, Place place) {
  r.line_words.used |= rotary_letters;
  if (!r.said_once.insert("rotary").second) return;
  addNotFollowed(r, "not-followed", place, "The program turns a rotary axis (A, B or C); that is not followed.",
                 "Only X, Y and Z are followed.");
}

// Step 19; true when the line's axis words are taken by it.
bool runNonModal(Reading& r) {
  const LineWords::Code& c = r.line_words.code(GGroup::non_modal);
  const Place place = placeOfCode(r, c);
  if (c.code == 40 || c.code == 530) return false;
  if (c.code != 100) refuseUnderCompensation(r, c);
  if (c.code == 100) runDataSetting(r, place);
  if (c.code == 280 || c.code == 300) runReferenceReturn(r, c.code, place);
  if (c.code >= 920) runAxisOffset(r, c.code, place);
  const bool takes_axes = c.code <= 300 || c.code == 920;
  if (takes_axes && r.line_words.has(GGroup::motion) && r.line_words.code(GGroup::motion).code != 800) {
    tolerate(r, "", "axis-words-claimed-twice", placeOfCode(r, r.line_words.code(GGroup::motion)),
             shownWord(r, *r.line_words.code(GGroup::motion).word) + " and " + shownWord(r, *c.word) +
                 " both use axis words.",
             shownWord(r, *c.word) + " takes them.");
  }
  return takes_axes;
}

void runInMachineFrame(Reading& r, int code) {
  LineWords& w = r.line_words;
  const LineWords::Code& c = w.code(GGroup::non_modal);
  refuseUnderCompensation(r, c);
  if (code != 0 && code != 10) {
    addProblem(r, "machine-move-mode", placeOfCode(r, c), "G53 goes with G0 or G1 only.", "It is taken as a rapid.");
  }
  if (w.hasAny(axis_letters)) {
    runMachineMove(r, code == 10 ? MotionKind::feed : MotionKind::rapid, moveSpan(r));
  } else {
    tolerate(r, "word-missing", "axis-word-missing", placeOfCode(r, c), "G53 needs an axis word.", "Nothing moves.");
  }
}

// Notes a line that begins with a rapid after a rapid, which is where the tool is up.
void noteResume(Reading& r, int code) {
  constexpr std::size_t most = 20'000;
  const std::vector<Motion>& motions = r.program.motions;
  const bool starts_up =
      !motions.empty() && motions.back().kind == MotionKind::rapid && motions.back().end.z > motions.back().start.z;
  if (!starts_up || !startKnown(r) || r.in_subprogram || r.compensation.side != 0 || r.program.resumes.size() >= most)
    return;
  if (code != 0) return;
  ResumePoint p;
  p.place = moveSpan(r);
  p.before_motion = static_cast<std::uint32_t>(motions.size());
  p.tool = r.state.tool;
  p.rpm = static_cast<float>(r.state.rpm);
  p.feed = r.state.feed;
  p.spindle = r.state.spindle;
  p.plane = r.state.plane;
  p.inch = r.state.inch;
  p.incremental = r.state.incremental;
  p.inverse_time = r.state.inverse_time;
  p.arc_centre_absolute = r.state.arc_centre_absolute;
  p.system = static_cast<std::uint8_t>(r.state.system);
  p.length_offset = r.state.length_offset;
  p.names_motion = r.line_words.has(GGroup::motion);
  r.program.resumes.push_back(p);
}

// Steps 19 and 20.
void runMoves(Reading& r) {
  LineWords& w = r.line_words;
  const bool machine_frame = w.has(GGroup::non_modal) && w.code(GGroup::non_modal).code == 530;
  const bool axes_taken = w.has(GGroup::non_modal) && runNonModal(r);
  const bool explicit_motion = w.has(GGroup::motion);
  if (explicit_motion) r.state.motion = w.code(GGroup::motion).code;
  const int code = r.state.motion;
  if (code == 0 || code == 10) r.state.straight = code;
  if (axes_taken) {
    if (explicit_motion) r.cycle = {};
    return;
  }
  if (w.hasAny(rotary_letters)) warnRotary(r, moveSpan(r));
  const bool arc = code == 20 || code == 30;
  const bool moves = w.hasAny(axis_letters) || (arc && w.hasAny(centre_letters | LineWords::bit('R')));
  if (machine_frame) {
    runInMachineFrame(r, code);
  } else if (moves) {
    noteResume(r, code);
    runMotion(r, code, moveSpan(r));
  } else if (explicit_motion) {
    if (code != r.cycle.code) r.cycle = {};
    // A word that could not be read has been spoken of already.
    if (code != 800 && !w.hasAny(rotary_letters) && r.block.faults.empty()) {
      const char* usual = isCycle(code) || code == 382 ? "word-missing" : "";
      tolerate(r, usual,
               isCycle(code) ? "cycle-without-position"
               : code == 382 ? "probe-faulty"
               : arc         ? "arc-end-missing"
                             : "axis-word-missing",
               placeOfCode(r, w.code(GGroup::motion)),
               shownWord(r, *w.code(GGroup::motion).word) + " needs an axis word.",
               "Nothing moves; the code stays in force.");
    }
  }
}

// Step 21, with the resets of M2 and M30 that anything after them can see (NISTIR 6556 3.6.1).
void stop(Reading& r, const LineWords::Code& c) {
  const Place place = placeOfCode(r, c);
  if (c.code == 0 || c.code == 60 || c.code == 1) {
    addEvent(r, c.code == 1 ? EventKind::optional_stop : EventKind::stop, 0, place);
    return;
  }
  endCompensation(r);
  setSpindle(r, Spindle::off, place);
  addEvent(r, EventKind::end, 0, place);
  r.ended = r.ended_by_word = true;
}

// Words that no code on the line has taken.
void reportUnused(Reading& r) {
  const LineWords& w = r.line_words;
  for (const Word& word : r.block.words) {
    if (word.letter == 'G' || word.letter == 'M') continue;
    if ((w.present & ~w.used & LineWords::bit(word.letter)) == 0 || &w.word(word.letter) != &word) continue;
    tolerate(r, "word-unused", "word-refused", placeOf(r, word),
             "Nothing on this line uses " + shownWord(r, word) + ".", "It is left out.");
  }
}

}  // namespace

void runLine(Reading& r) {
  LineWords& w = r.line_words;
  if ((w.g_present | w.m_present) != 0 || w.hasAny(LineWords::bits('F', 'S', 'T'))) runSettings(r);
  runMoves(r);
  if (w.m_present != 0) {
    if (w.has(MGroup::subprogram)) {
      const LineWords::Code& c = w.code(MGroup::subprogram);
      noteUse(r, "subprograms", placeOfCode(r, c));
      if (c.code == 98) {
        r.flow.callSubprogram(r, placeOfCode(r, c));
      } else {
        r.flow.endSubprogram(r, placeOfCode(r, c));
      }
    }
    if (w.has(MGroup::stopping)) stop(r, w.code(MGroup::stopping));
  }
  if ((w.present & ~w.used) != 0 && !w.unknown_code) reportUnused(r);
}

}  // namespace provecut::interpreter
