// From the line's block to its words: what cannot be read is said, values are worked out, codes sorted.
#include <cmath>
#include <optional>
#include <span>
#include <string>

#include "parser/interpreter/expression.h"
#include "parser/interpreter/steps.h"

namespace provecut::interpreter {

namespace {

constexpr double largest_coordinate = 1e6;  // program units: beyond any machine
constexpr double largest_value = 1e9;

ProblemKind kindOf(FaultKind kind, std::string_view text) {
  if (text.find("#<") != std::string_view::npos) return ProblemKind::named_parameter;
  switch (kind) {
    case FaultKind::unknown_letter:
      return ProblemKind::unknown_letter;
    case FaultKind::no_value:
      return ProblemKind::letter_without_value;
    case FaultKind::bad_number:
      return text.find(',') == std::string_view::npos ? ProblemKind::not_a_number : ProblemKind::comma_in_number;
    case FaultKind::bad_expression:
      return ProblemKind::expression_unreadable;
    case FaultKind::unknown_function:
      return ProblemKind::unknown_function;
    case FaultKind::half_arc_tangent:
      return ProblemKind::half_arc_tangent;
    case FaultKind::stray_character:
      return ProblemKind::stray_character;
    case FaultKind::stray_bracket:
      return ProblemKind::stray_bracket;
    case FaultKind::stray_slash:
      return ProblemKind::stray_slash;
    case FaultKind::bad_setting:
      return ProblemKind::setting_unreadable;
    case FaultKind::bad_line_number:
      return ProblemKind::line_number_without_digits;
    case FaultKind::control_character:
      return ProblemKind::control_character;
  }
  return ProblemKind::stray_character;
}

ProblemKind kindOf(ExpressionError error) {
  switch (error) {
    case ExpressionError::none:
    case ExpressionError::too_large:
      return ProblemKind::result_too_large;
    case ExpressionError::bad_parameter_index:
      return ProblemKind::parameter_number_faulty;
    case ExpressionError::parameter_beyond_limit:
      return ProblemKind::parameter_beyond_limit;
    case ExpressionError::divide_by_zero:
      return ProblemKind::division_by_zero;
    case ExpressionError::root_of_negative:
      return ProblemKind::root_of_negative;
    case ExpressionError::logarithm:
      return ProblemKind::logarithm_of_not_positive;
    case ExpressionError::arc_function:
      return ProblemKind::arc_function_beyond_one;
    case ExpressionError::power:
      return ProblemKind::power_of_negative;
  }
  return ProblemKind::result_too_large;
}

void reportFaults(const Line& line, Sink& sink) {
  constexpr std::size_t max_on_one_line = 8;
  std::size_t count = 0;
  for (const Fault& f : line.block.faults) {
    if (++count > max_on_one_line) break;
    const fact::Text text = textOf(line, f);
    const ProblemKind kind = kindOf(f.kind, text.text);
    if (f.kind == FaultKind::control_character) {
      addProblem(sink, kind, placeOf(line, f), {text});
    } else {
      addNotFollowed(sink, kind, placeOf(line, f), {text});
    }
  }
}

// What is read beyond the standard: refused when strict.
void refuseExtension(const Line& line, Sink& sink, const Extension& e) {
  ProblemKind kind = ProblemKind::not_standard;
  if (e.kind == ExtensionKind::space_in_number) return;
  if (e.kind == ExtensionKind::unclosed_comment || e.kind == ExtensionKind::nested_comment)
    kind = ProblemKind::comment_not_standard;
  if (e.kind == ExtensionKind::long_line_number || e.kind == ExtensionKind::faulty_line_number ||
      e.kind == ExtensionKind::misplaced_line_number)
    kind = ProblemKind::line_number_not_standard;
  addProblem(sink, kind, placeOf(line, e), {textOf(line, e)});
}

// What is read beyond the standard: noted where it matters.
void noteExtension(const Line& line, Sink& sink, const Extension& e) {
  const Place place = placeOf(line, e);
  const auto note = [&](ProblemKind kind) { addProblem(sink, kind, place, {textOf(line, e)}); };
  const auto noteOnce = [&](ProblemKind kind) { addProblemOnce(sink, kind, place, {textOf(line, e)}); };
  switch (e.kind) {
    case ExtensionKind::semicolon_comment:
    case ExtensionKind::label:
    case ExtensionKind::comparison:
    case ExtensionKind::long_line_number:
      return;
    case ExtensionKind::unclosed_comment:
      return note(ProblemKind::comment_unclosed);
    case ExtensionKind::nested_comment:
      return note(ProblemKind::comment_nested);
    case ExtensionKind::exponent:
      return noteOnce(ProblemKind::exponent);
    case ExtensionKind::space_in_number:
      return note(ProblemKind::space_in_number);
    case ExtensionKind::signed_value:
      return addProblemOnce(sink, ProblemKind::sign_before_value, place);
    case ExtensionKind::faulty_line_number:
      return noteOnce(ProblemKind::line_number_long);
    case ExtensionKind::misplaced_line_number:
      return noteOnce(ProblemKind::line_number_not_first);
    case ExtensionKind::colon:
      return addProblemOnce(sink, ProblemKind::colon_first, place);
    case ExtensionKind::checksum:
      if (line.block.checksum_wrong) note(ProblemKind::checksum_wrong);
      return;
    case ExtensionKind::percent_text:
      return note(ProblemKind::text_after_percent);
  }
}

void reportConflict(const Line& line, Sink& sink, const Word& first, const Word& second) {
  addProblem(sink, ProblemKind::codes_exclude_each_other, placeOf(line, second),
             {codeOf(line, first), codeOf(line, second)}, placeOf(line, first));
}

void addG(Line& line, Sink& sink, const Word& w, double value) {
  LineWords& words = line.words;
  int tenths = 0;
  if (line.text.substr(w.column - 1, w.end_column - w.column).ends_with(".0")) words.decimal_code = &w;
  // Within 0.0001 of a tenth (NISTIR 6556 3.3.2.1).
  if (!nearInteger(value * 10, tenths)) tenths = -1;
  const GGroup group = gGroup(tenths);
  if (group == GGroup::unknown || (sink.strict && isExtensionG(tenths))) {
    words.unknown_code = true;
    if (axisUse(tenths) != AxisUse::none) {
      words.not_followed = {tenths, &w};  // told once its axis words are known
    } else {
      const ProblemKind kind = isKnownElsewhereG(tenths) ? ProblemKind::code_not_followed : ProblemKind::unknown_code;
      addNotFollowed(sink, kind, placeOf(line, w), {codeOf(line, w)});
    }
    return;
  }
  LineWords::Code& slot = words.g[static_cast<std::size_t>(group)];
  if (group == GGroup::motion && words.has(group) && !sink.strict && (slot.code == 800) != (tenths == 800)) {
    // "G0 G40 G80": in the usual first line G80 only ends a cycle, and the other code comes into force.
    if (slot.code == 800) slot = {tenths, &w};
    return;
  }
  if (words.has(group) && (slot.code != tenths || sink.strict)) reportConflict(line, sink, *slot.word, w);
  words.g_present |= 1u << static_cast<unsigned>(group);
  slot = {tenths, &w};
}

void noteMachineFunction(const Line& line, Sink& sink, const Word& w, int code) {
  const FactList facts{codeOf(line, w)};
  const bool in_place_of_n = sink.tally.line_before_numbered && !line.block.numbered && &line.block.words.front() == &w;
  if (in_place_of_n && code >= 0 && !isMachineFunctionM(code)) {
    addProblem(sink, ProblemKind::line_number_as_m, placeOf(line, w),
               {facts.front(), fact::Code{std::string("N").append(std::to_string(code))}});
  } else if (code < 0) {
    addProblem(sink, ProblemKind::unknown_code, placeOf(line, w), facts);
  } else if (isMachineFunctionM(code)) {
    addProblemOnce(sink, ProblemKind::machine_function, placeOf(line, w), facts);
  } else {
    addProblem(sink, ProblemKind::machine_function_unknown, placeOf(line, w), facts);
  }
}

void addM(Line& line, Sink& sink, const Word& w, double value) {
  LineWords& words = line.words;
  int code = 0;
  if (!nearInteger(value, code)) code = -1;
  const MGroup group = mGroup(code);
  if (++words.m_count == 5) addProblem(sink, ProblemKind::too_many_m_words, placeOf(line, w));
  if (group == MGroup::unknown || (sink.strict && (group == MGroup::subprogram || code == 13 || code == 14))) {
    words.unknown_code = true;
    noteMachineFunction(line, sink, w, code);
    return;
  }
  LineWords::Code& slot = words.m[static_cast<std::size_t>(group)];
  // Mist and flood can both be on; the standard has them in one group all the same.
  const bool both_coolants = group == MGroup::coolant && code != 9 && slot.code != 9;
  if (group == MGroup::coolant) {
    if (!words.has(group)) words.mist = words.flood = false;
    words.mist = code != 9 && (words.mist || code == 7);
    words.flood = code != 9 && (words.flood || code == 8);
  }
  if (words.has(group) && ((slot.code != code && !both_coolants) || sink.strict))
    reportConflict(line, sink, *slot.word, w);
  words.m_present |= 1u << static_cast<unsigned>(group);
  slot = {code, &w};
}

void addValue(Line& line, Sink& sink, const Word& w, double value) {
  LineWords& words = line.words;
  const std::uint32_t bit = LineWords::bit(w.letter);
  constexpr std::uint32_t lengths = axis_letters | centre_letters | LineWords::bit('R');
  const double largest = (bit & lengths) != 0 ? largest_coordinate : largest_value;
  if (!(std::abs(value) <= largest)) {
    addNotFollowed(sink, ProblemKind::value_beyond_machine, placeOf(line, w), {textOf(line, w)});
    return;
  }
  if (words.has(w.letter)) {
    const Word& first = words.word(w.letter);
    addProblem(sink, ProblemKind::word_twice, placeOf(line, w),
               {fact::Code{std::string(1, w.letter)}, textOf(line, first), textOf(line, w)}, placeOf(line, first));
  }
  words.set(w, value);
}

// Absent, and said, where it cannot be worked out.
// Of several parameters of one expression the first is enough.
bool toldUnset(const std::vector<Problem>& problems, Place place) {
  return !problems.empty() && problems.back().kind == ProblemKind::parameter_unset && problems.back().place == place;
}

std::optional<ExpressionValue> workedOut(const Line& line, const ParameterTable& parameters, Sink& sink, Range range,
                                         Place place) {
  const std::span<const Operation> operations = std::span(line.block.operations);
  ExpressionValue v = evaluate(operations.subspan(range.first, range.last - range.first), parameters);
  for (const int number : v.read) {
    if (number == system_parameter) sink.resuming.use(modeSet(Mode::work_offset));
    sink.resuming.useParameter(number, parameters.get(number));
  }
  if (v.unset_parameter != 0 && !toldUnset(sink.program.problems, place))
    addProblem(sink, ProblemKind::parameter_unset, place, {fact::Parameter{v.unset_parameter}});
  if (v.error == ExpressionError::none) return v;
  addNotFollowed(sink, kindOf(v.error), place, {textOf(line, place)});
  return std::nullopt;
}

// All settings of a line take effect together, after every value on it is known (NISTIR 6556 3.3.3).
void applySettings(const Input& input, const Line& line, MachineState& machine, Sink& sink) {
  noteUse(sink, "parameters", placeOf(line, line.block.settings.front()));
  struct Assignment {
    int index;
    double value;
    bool measured;
    Place place;
  };
  std::vector<Assignment> assignments;
  for (const Setting& s : line.block.settings) {
    const Place place = placeOf(line, s);
    double index_value = 0;
    if (!workOut(line, machine.parameters, sink, s.index, place, index_value)) continue;
    const auto value = workedOut(line, machine.parameters, sink, s.value, place);
    if (!value) continue;
    int index = 0;
    if (!nearInteger(index_value, index) || index < 1 || index > last_parameter) {
      const bool beyond = nearInteger(index_value, index) && index > last_parameter;
      addNotFollowed(sink, beyond ? ProblemKind::parameter_beyond_limit : ProblemKind::parameter_number_faulty, place,
                     {textOf(line, s)});
      continue;
    }
    assignments.push_back({index, value->value, sink.resuming.anyMeasured(value->read), place});
  }
  for (const Assignment& a : assignments) {
    setParameter(input, machine, sink, a.index, a.value, a.place);
    sink.resuming.setParameter(a.index, a.measured);
  }
}

}  // namespace

bool workOut(const Line& line, const ParameterTable& parameters, Sink& sink, Range range, Place place, double& value) {
  const auto v = workedOut(line, parameters, sink, range, place);
  if (v) value = v->value;
  return v.has_value();
}

void reportSyntax(const Line& line, Sink& sink) {
  if (!line.block.faults.empty()) reportFaults(line, sink);
  for (const Extension& e : line.block.extensions) {
    if (sink.strict) {
      refuseExtension(line, sink, e);
    } else {
      noteExtension(line, sink, e);
    }
  }
}

void gatherWords(const Input& input, Line& line, MachineState& machine, Sink& sink) {
  line.words.clear();
  for (const Word& w : line.block.words) {
    double value = w.value;
    if (!w.expression.empty()) {
      noteUse(sink, "parameters", placeOf(line, w));
      if (!workOut(line, machine.parameters, sink, w.expression, placeOf(line, w), value)) continue;
    }
    if (w.letter == 'G') {
      addG(line, sink, w, value);
    } else if (w.letter == 'M') {
      addM(line, sink, w, value);
    } else {
      addValue(line, sink, w, value);
    }
  }
  if (!line.block.settings.empty()) applySettings(input, line, machine, sink);
}

}  // namespace provecut::interpreter
