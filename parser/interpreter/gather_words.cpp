#include <cmath>
#include <string>

#include "parser/base/quoted_text.h"
#include "parser/interpreter/expression.h"
#include "parser/interpreter/reading.h"

namespace provecut::interpreter {

namespace {

constexpr double largest_coordinate = 1e6;  // program units: beyond any machine
constexpr double largest_value = 1e9;

const char* describe(FaultKind kind) {
  switch (kind) {
    case FaultKind::unknown_letter:
      return "the letter is not one of the language";
    case FaultKind::no_value:
      return "a letter without a value";
    case FaultKind::bad_number:
      return "not a number";
    case FaultKind::bad_expression:
      return "the expression cannot be read";
    case FaultKind::unknown_function:
      return "no such function";
    case FaultKind::half_arc_tangent:
      return "ATAN takes two parts, ATAN[a]/[b]";
    case FaultKind::nested_too_deep:
      return "brackets are nested too deep";
    case FaultKind::stray_character:
      return "no word begins like this";
    case FaultKind::stray_bracket:
      return "a bracket that belongs to nothing";
    case FaultKind::stray_slash:
      return "a slash may stand only first on a line or divide within brackets";
    case FaultKind::bad_setting:
      return "the parameter setting cannot be read";
    case FaultKind::bad_line_number:
      return "a line number has one to five digits behind its N";
    case FaultKind::bad_label:
      return "the O word cannot be read";
    case FaultKind::control_character:
      return "a control character";
  }
  return "";
}

std::string_view textAt(const Reading& r, std::uint32_t column, std::uint32_t end_column) {
  return r.line.substr(column - 1, end_column - column);
}

std::string quoted(const Reading& r, Place place) {
  std::string text(1, '"');
  text += shownText(textAt(r, place.column, place.end_column));
  text += '"';
  return text;
}

void reportFaults(Reading& r) {
  constexpr std::size_t max_on_one_line = 8;
  std::size_t count = 0;
  for (const Fault& f : r.block.faults) {
    if (++count > max_on_one_line) break;
    const Place place{r.line_number, f.column, f.end_column};
    std::string message = quoted(r, place) + " cannot be read: " + describe(f.kind) + ".";
    const char* assumed = "It is left out; the rest of the line is read.";
    if (f.kind == FaultKind::control_character) {
      addProblem(r, "syntax", place, std::move(message), assumed);
    } else {
      const bool number = f.kind == FaultKind::bad_line_number && r.options.strict;
      addNotFollowed(r, number ? "line-number-refused" : "syntax", place, std::move(message), assumed);
    }
  }
}

// What is read beyond the standard: refused when strict, noted where it matters.
void reportExtension(Reading& r, const Extension& e) {
  const Place place{r.line_number, e.column, e.end_column};
  if (r.options.strict && e.kind != ExtensionKind::space_in_number) {
    const bool comment = e.kind == ExtensionKind::unclosed_comment || e.kind == ExtensionKind::nested_comment;
    const bool number = e.kind == ExtensionKind::long_line_number || e.kind == ExtensionKind::misplaced_line_number;
    addProblem(r,
               comment  ? "comment-refused"
               : number ? "line-number-refused"
                        : "syntax",
               place, quoted(r, place) + " is not in the published standard.", "It is read as common practice has it.");
    return;
  }
  switch (e.kind) {
    case ExtensionKind::semicolon_comment:
    case ExtensionKind::label:
    case ExtensionKind::comparison:
      return;
    case ExtensionKind::unclosed_comment:
      addProblem(r, "comment-faulty", place, "The comment " + quoted(r, place) + " is never closed.",
                 "It ends with its line.", "Close it: some machines take all that follows as comment.");
      return;
    case ExtensionKind::nested_comment:
      addProblem(r, "comment-faulty", place, "The comment " + quoted(r, place) + " holds another \"(\".",
                 "The whole is taken as comment.", "Machines differ: some end the comment at its first \")\".");
      return;
    case ExtensionKind::exponent:
      addProblemOnce(r, "exponent-number", place, "The number " + quoted(r, place) + " has an exponent.",
                     "It is read as that number.",
                     "Export with a fixed number of decimals: many machines stop here or read another number.");
      return;
    case ExtensionKind::space_in_number:
      tolerate(r, "space-in-number", "", place, "The number " + quoted(r, place) + " has spaces between its digits.",
               "They are left out, as the standard says.");
      return;
    case ExtensionKind::signed_value:
      addProblemOnce(r, "beyond-standard", place, "A sign before a parameter or an expression is not in the standard.",
                     "It is taken as written.");
      return;
    case ExtensionKind::long_line_number:
    case ExtensionKind::misplaced_line_number:
      addProblemOnce(r, "line-number-odd", place,
                     "The line number " + quoted(r, place) +
                         (e.kind == ExtensionKind::long_line_number ? " is longer than five digits or has a point."
                                                                    : " does not stand first on its line."),
                     "Line numbers are not used for anything here.");
      return;
    case ExtensionKind::colon:
      addProblemOnce(r, "beyond-standard", place, "A colon at the start of a line is not in the standard.",
                     "It is left out.");
      return;
    case ExtensionKind::checksum:
      if (r.block.checksum_wrong) {
        addProblem(r, "checksum-wrong", place, "The checksum " + quoted(r, place) + " does not fit the line.",
                   "The line is read as it stands.");
      }
      return;
    case ExtensionKind::percent_text:
      addProblem(r, "syntax", place, quoted(r, place) + " stands on the line of a %.", "It is left out.");
      return;
  }
}

void reportConflict(Reading& r, const Word& first, const Word& second) {
  addProblem(r, "modal-conflict", placeOf(r, second),
             shownWord(r, first) + " and " + shownWord(r, second) + " exclude each other on one line.",
             "The last one is obeyed.")
      .related.push_back({{}, placeOf(r, first), "the other code"});
}

void addG(Reading& r, const Word& w, double value) {
  LineWords& words = r.line_words;
  int tenths = 0;
  // Within 0.0001 of a tenth (NISTIR 6556 3.3.2.1).
  if (!nearInteger(value * 10, tenths)) tenths = -1;
  const GGroup group = gGroup(tenths);
  if (group == GGroup::unknown || (r.options.strict && isExtensionG(tenths))) {
    words.unknown_code = true;
    addNotFollowed(r, "unknown-code", placeOf(r, w), shownWord(r, w) + " is not a code that is known here.",
                   "It is left out; what it does is not followed.");
    return;
  }
  LineWords::Code& slot = words.g[static_cast<std::size_t>(group)];
  if (group == GGroup::motion && words.has(group) && !r.options.strict && (slot.code == 800) != (tenths == 800)) {
    // "G0 G40 G80": in the usual first line G80 only ends a cycle, and the other code comes into force.
    if (slot.code == 800) slot = {tenths, &w};
    return;
  }
  if (words.has(group) && (slot.code != tenths || r.options.strict)) reportConflict(r, *slot.word, w);
  words.g_present |= 1u << static_cast<unsigned>(group);
  slot = {tenths, &w};
}

void addM(Reading& r, const Word& w, double value) {
  LineWords& words = r.line_words;
  int code = 0;
  if (!nearInteger(value, code)) code = -1;
  const MGroup group = mGroup(code);
  if (++words.m_count == 5) {
    tolerate(r, "", "m-words-too-many", placeOf(r, w), "More than four M words stand on this line.", "All are obeyed.");
  }
  if (group == MGroup::unknown || (r.options.strict && group == MGroup::subprogram)) {
    words.unknown_code = true;
    addProblem(r, "unknown-code", placeOf(r, w), shownWord(r, w) + " is not a code that is known here.",
               "It is left out; what it does is not followed.");
    return;
  }
  LineWords::Code& slot = words.m[static_cast<std::size_t>(group)];
  // Mist and flood can both be on; the standard has them in one group all the same.
  const bool both_coolants = group == MGroup::coolant && code != 9 && slot.code != 9;
  if (words.has(group) && ((slot.code != code && !both_coolants) || r.options.strict)) reportConflict(r, *slot.word, w);
  words.m_present |= 1u << static_cast<unsigned>(group);
  slot = {code, &w};
}

void addValue(Reading& r, const Word& w, double value) {
  LineWords& words = r.line_words;
  const std::uint32_t bit = LineWords::bit(w.letter);
  constexpr std::uint32_t lengths = axis_letters | centre_letters | LineWords::bit('R');
  const double largest = (bit & lengths) != 0 ? largest_coordinate : largest_value;
  if (!(std::abs(value) <= largest)) {
    addNotFollowed(r, "word-out-of-range", placeOf(r, w), shownWord(r, w) + " is beyond any machine.",
                   "The word is left out.");
    return;
  }
  const std::size_t index = static_cast<std::size_t>(w.letter - 'A');
  if ((words.present & bit) != 0) {
    addProblem(r, "word-twice", placeOf(r, w),
               std::string("The letter ") + w.letter +
                   " stands twice on this line: " + shownWord(r, *words.words[index]) + " and " + shownWord(r, w) + ".",
               "The last one is obeyed.")
        .related.push_back({{}, placeOf(r, *words.words[index]), "the first one"});
  }
  words.present |= bit;
  words.values[index] = value;
  words.words[index] = &w;
}

// All settings of a line take effect together, after every value on it is known (NISTIR 6556 3.3.3).
void applySettings(Reading& r) {
  noteUse(r, "parameters", {r.line_number, r.block.settings.front().column, r.block.settings.front().end_column});
  struct Assignment {
    int index;
    double value;
    Place place;
  };
  std::vector<Assignment> assignments;
  for (const Setting& s : r.block.settings) {
    const Place place{r.line_number, s.column, s.end_column};
    double index_value = 0, value = 0;
    if (!workOut(r, s.index, place, index_value) || !workOut(r, s.value, place, value)) continue;
    int index = 0;
    if (!nearInteger(index_value, index) || index < 1 || index > last_parameter) {
      addNotFollowed(r, "expression", place,
                     quoted(r, place) + ": " + describe(ExpressionError::bad_parameter_index) + ".",
                     "The setting is left out.");
      continue;
    }
    assignments.push_back({index, value, place});
  }
  for (const Assignment& a : assignments) setParameter(r, a.index, a.value, a.place);
}

}  // namespace

bool workOut(Reading& r, Range range, Place place, double& value) {
  const ExpressionValue v =
      evaluate(std::span(r.block.operations).subspan(range.first, range.last - range.first), r.parameters);
  if (v.unset_parameter != 0) {
    addProblem(r, "parameter-unset", place,
               "Parameter #" + std::to_string(v.unset_parameter) + " is read and was never set.",
               "It is taken as 0; the machine may hold another value.");
  }
  if (v.error != ExpressionError::none) {
    addNotFollowed(r, "expression", place, quoted(r, place) + " cannot be worked out: " + describe(v.error) + ".",
                   "It is left out.");
    return false;
  }
  value = v.value;
  return true;
}

void reportSyntax(Reading& r) {
  if (!r.block.faults.empty()) reportFaults(r);
  for (const Extension& e : r.block.extensions) reportExtension(r, e);
}

void gatherWords(Reading& r) {
  LineWords& words = r.line_words;
  words.present = words.used = words.g_present = words.m_present = 0;
  words.m_count = 0;
  words.unknown_code = false;
  const Block& block = r.block;
  for (const Word& w : block.words) {
    double value = w.value;
    if (!w.expression.empty()) {
      noteUse(r, "parameters", placeOf(r, w));
      if (!workOut(r, w.expression, placeOf(r, w), value)) continue;
    }
    if (w.letter == 'G') {
      addG(r, w, value);
    } else if (w.letter == 'M') {
      addM(r, w, value);
    } else {
      addValue(r, w, value);
    }
  }
  if (!block.settings.empty()) applySettings(r);
}

}  // namespace provecut::interpreter
