#include "parser/interpreter/program_flow.h"

#include <algorithm>
#include <string>

#include "parser/base/quoted_text.h"
#include "parser/interpreter/expression.h"
#include "parser/interpreter/reading.h"

namespace provecut::interpreter {

namespace {

void sayFaulty(Reading& r, Place place, std::string message, std::string assumed) {
  addNotFollowed(r, "subprogram-faulty", place, std::move(message), std::move(assumed));
}

}  // namespace

bool ProgramFlow::next(Reading& r) {
  const std::uint64_t searched = labels_ ? labels_->steps() : 0;
  if (repeated_lines_ > r.options.max_repeated_lines || searched > max_searched_lines) {
    addNotFollowed(r, "limit-reached", {r.line_number, 1, 2},
                   "The program's loops and calls go on beyond " + std::to_string(r.options.max_repeated_lines) +
                       " lines; they may never end.",
                   "The rest is left out.");
    return false;
  }
  if (!lines_.next(r.line)) {
    if (!frames_.empty()) {
      sayFaulty(r, {lines_.lineNumber(), 0, 0}, "The program ends within a subprogram or loop.", "It ends here.");
      frames_.clear();
    }
    return false;
  }
  r.line_number = lines_.lineNumber();
  if (r.line_number > furthest_line_) {
    furthest_line_ = r.line_number;
  } else {
    ++repeated_lines_;
  }
  r.in_subprogram = inSubprogram();
  return true;
}

bool ProgramFlow::inSubprogram() const {
  return std::any_of(frames_.begin(), frames_.end(), [](const Frame& f) { return !isLoop(f); });
}

const ProgramLabels& ProgramFlow::labels() {
  if (!labels_) labels_.emplace(text_);
  return *labels_;
}

bool ProgramFlow::push(Reading& r, Frame frame, Place place) {
  if (frames_.size() >= deepest_calls) {
    addNotFollowed(r, "limit-reached", place,
                   "Calls and loops are nested deeper than " + std::to_string(deepest_calls) + ".",
                   "The call is left out.");
    return false;
  }
  frames_.push_back(frame);
  return true;
}

ProgramFlow::Frame* ProgramFlow::loopNamed(std::string_view name) {
  if (frames_.empty()) return nullptr;
  Frame& f = frames_.back();
  return isLoop(f) && f.name == name ? &f : nullptr;
}

void ProgramFlow::callSubprogram(Reading& r, Place place) {
  LineWords& w = r.line_words;
  w.used |= LineWords::bits('P', 'L');
  int number = 0, times = 1;
  if (!w.has('P') || !nearInteger(w.value('P'), number) || number < 0) {
    sayFaulty(r, place, "M98 needs P, the number of the subprogram.", "The call is left out.");
    return;
  }
  if (w.has('L') && (!nearInteger(w.value('L'), times) || times < 0)) {
    addProblem(r, "subprogram-faulty", placeOf(r, w.word('L')),
               shownWord(r, w.word('L')) + " is not a number of times.", "One is taken.");
    times = 1;
  }
  const std::string name = std::to_string(number);
  const std::size_t label = labels().find(name, Flow::label);
  if (label == labels().size()) {
    sayFaulty(r, place, "The subprogram O" + name + " is not in this file.", "The call is left out.");
    return;
  }
  if (times == 0) return;
  Frame f;
  f.kind = Kind::m98;
  f.name = labels()[label].name;
  f.start = labels()[label].line;
  f.back = lines_.mark();
  f.remaining = static_cast<std::uint64_t>(times);
  if (push(r, f, place)) lines_.seek(f.start);
}

void ProgramFlow::endSubprogram(Reading& r, Place place) {
  // Loops that were not finished end with the subprogram.
  while (!frames_.empty() && isLoop(frames_.back())) frames_.pop_back();
  if (frames_.empty()) {
    addProblemOnce(r, "endless-program", place, "M99 outside a subprogram starts the program again, without end.",
                   "It is followed once.", "End the program with M2 or M30 if one run is meant.");
    r.ended = true;
    r.ended_by_word = true;
    addEvent(r, EventKind::end, 0, place);
    return;
  }
  if (frames_.back().kind == Kind::call) {
    finishCall(r, place);
    return;
  }
  Frame& f = frames_.back();
  if (--f.remaining > 0) {
    lines_.seek(f.start);
    return;
  }
  lines_.seek(f.back);
  frames_.pop_back();
}

std::optional<double> ProgramFlow::argument(Reading& r, std::size_t index, Place place) {
  const Label& label = r.block.label;
  if (index >= label.arguments.size()) {
    sayFaulty(r, place, "The O word needs a value in brackets.", "0 is taken.");
    return std::nullopt;
  }
  double value = 0;
  return workOut(r, label.arguments[index], place, value) ? std::optional(value) : std::nullopt;
}

void ProgramFlow::leave(Reading& r, std::size_t label, Place place) {
  if (label == labels().size()) {
    sayFaulty(r, place, "The end of this O word's part is not in the file.", "The lines that follow are run.");
    return;
  }
  lines_.seek(labels()[label].after);
}

void ProgramFlow::call(Reading& r, Place place) {
  const Label& label = r.block.label;
  const std::size_t sub = labels().find(label.name, Flow::sub);
  if (sub == labels().size()) {
    sayFaulty(r, place, "The subprogram " + shownText(label.name) + " is not in this file.", "The call is left out.");
    return;
  }
  std::array<double, 30> values{};
  for (std::size_t i = 0; i < std::min(label.arguments.size(), values.size()); ++i) {
    values[i] = argument(r, i, place).value_or(0);
  }
  Frame f;
  f.kind = Kind::call;
  f.name = labels()[sub].name;
  f.start = labels()[sub].after;
  f.back = lines_.mark();
  for (int i = 0; i < 30; ++i) f.parameters[static_cast<std::size_t>(i)] = r.parameters.get(i + 1);
  if (!push(r, f, place)) return;
  for (int i = 0; i < 30; ++i) {
    r.parameters.set(i + 1, values[static_cast<std::size_t>(i)]);
    r.parameters.markSet(i + 1);  // what is not given is 0
  }
  lines_.seek(f.start);
}

void ProgramFlow::finishCall(Reading& r, Place place) {
  while (!frames_.empty() && frames_.back().kind != Kind::call) frames_.pop_back();
  if (frames_.empty()) {
    sayFaulty(r, place, "A return stands outside a subprogram.", "It is left out.");
    return;
  }
  const Frame& f = frames_.back();
  for (int i = 0; i < 30; ++i) r.parameters.set(i + 1, f.parameters[static_cast<std::size_t>(i)]);
  lines_.seek(f.back);
  frames_.pop_back();
}

// At an if or elseif whose turn it is: into its part, or on to the next one.
void ProgramFlow::choose(Reading& r, std::size_t label, Place place) {
  choose_next_ = false;
  if (argument(r, 0, place).value_or(0) != 0) return;
  const ProgramLabels& all = labels();
  const std::size_t part = all.nextOf(label, Flow::elseif, Flow::else_, Flow::endif);
  if (part == all.size() || all[part].flow != Flow::elseif) {
    leave(r, part, place);
    return;
  }
  choose_next_ = true;
  lines_.seek(all[part].line);
}

void ProgramFlow::branch(Reading& r, std::size_t label, Place place) {
  const Flow flow = labels()[label].flow;
  if (flow == Flow::if_ || (flow == Flow::elseif && choose_next_)) {
    choose(r, label, place);
  } else if (flow != Flow::endif) {  // the part before it was run
    leave(r, labels().nextOf(label, Flow::endif), place);
  }
}

// do, while, repeat: `end` is the line that closes the loop.
void ProgramFlow::enterLoop(Reading& r, Frame frame, std::size_t end, Place place) {
  if (!push(r, frame, place)) leave(r, end, place);
}

void ProgramFlow::doLine(Reading& r, std::size_t label, Place place) {
  const LabelLine& here = labels()[label];
  enterLoop(r, {Kind::do_loop, here.name, here.after, {}, 0, {}}, labels().nextOf(label, Flow::while_), place);
}

void ProgramFlow::whileLine(Reading& r, std::size_t label, Place place) {
  const LabelLine& here = labels()[label];
  const bool holds = argument(r, 0, place).value_or(0) != 0;
  Frame* const current = loopNamed(here.name);
  if (current != nullptr && current->kind == Kind::do_loop) {
    if (holds) {
      lines_.seek(current->start);
    } else {
      frames_.pop_back();
    }
    return;
  }
  const std::size_t end = labels().nextOf(label, Flow::endwhile);
  if (!holds) {
    if (current != nullptr) frames_.pop_back();
    leave(r, end, place);
  } else if (current == nullptr) {
    enterLoop(r, {Kind::while_loop, here.name, here.line, {}, 0, {}}, end, place);
  }
}

void ProgramFlow::repeatLine(Reading& r, std::size_t label, Place place) {
  const LabelLine& here = labels()[label];
  const std::size_t end = labels().nextOf(label, Flow::endrepeat);
  const double times = argument(r, 0, place).value_or(0);
  if (!(times >= 1)) {
    leave(r, end, place);
    return;
  }
  enterLoop(r, {Kind::repeat, here.name, here.after, {}, static_cast<std::uint64_t>(std::min(times, 1e12)), {}}, end,
            place);
}

void ProgramFlow::endOfLoop(Reading& r, std::size_t label, Place place) {
  Frame* const current = loopNamed(labels()[label].name);
  if (current == nullptr) {
    sayFaulty(r, place, "The end of a loop stands without its beginning.", "It is left out.");
  } else if (current->kind != Kind::repeat || --current->remaining > 0) {
    lines_.seek(current->start);
  } else {
    frames_.pop_back();
  }
}

// break, continue
void ProgramFlow::cutLoopShort(Reading& r, std::size_t label, Place place) {
  const ProgramLabels& all = labels();
  const LabelLine& here = all[label];
  while (!frames_.empty() && isLoop(frames_.back()) && loopNamed(here.name) == nullptr) frames_.pop_back();
  Frame* const loop = loopNamed(here.name);
  if (loop == nullptr) {
    sayFaulty(r, place, "It stands outside its loop.", "It is left out.");
    return;
  }
  const Flow closing = loop->kind == Kind::repeat    ? Flow::endrepeat
                       : loop->kind == Kind::do_loop ? Flow::while_
                                                     : Flow::endwhile;
  const std::size_t end = all.nextOf(label, closing);
  if (here.flow == Flow::continue_ && end != all.size()) {
    lines_.seek(all[end].line);
    return;
  }
  frames_.pop_back();
  leave(r, end, place);
}

void ProgramFlow::runLabel(Reading& r) {
  const Label& word = r.block.label;
  const Place place{r.line_number, word.column, word.end_column};
  const std::size_t label = labels().at(r.line_number);
  if (label == labels().size()) return;
  switch (word.flow) {
    case Flow::none:
    case Flow::label:
      return;
    case Flow::sub:
      leave(r, labels().nextOf(label, Flow::endsub), place);
      return;  // a definition is passed over
    case Flow::call:
      call(r, place);
      return;
    case Flow::endsub:
    case Flow::return_:
      finishCall(r, place);
      return;
    case Flow::if_:
    case Flow::elseif:
    case Flow::else_:
    case Flow::endif:
      branch(r, label, place);
      return;
    case Flow::do_:
      doLine(r, label, place);
      return;
    case Flow::while_:
      whileLine(r, label, place);
      return;
    case Flow::repeat:
      repeatLine(r, label, place);
      return;
    case Flow::endwhile:
    case Flow::endrepeat:
      endOfLoop(r, label, place);
      return;
    case Flow::break_:
    case Flow::continue_:
      cutLoopShort(r, label, place);
      return;
  }
}

}  // namespace provecut::interpreter
