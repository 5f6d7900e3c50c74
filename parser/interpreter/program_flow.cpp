#include "parser/interpreter/program_flow.h"

#include <algorithm>

#include "parser/interpreter/expression.h"
#include "parser/interpreter/steps.h"

namespace provecut::interpreter {

namespace {

std::array<double, local_parameters> localParameters(const ParameterTable& parameters) {
  std::array<double, local_parameters> values{};
  int index = 0;
  for (double& v : values) v = parameters.get(++index);
  return values;
}

void setLocalParameters(ParameterTable& parameters, const std::array<double, local_parameters>& values) {
  int index = 0;
  for (const double v : values) parameters.set(++index, v);
}

}  // namespace

bool ProgramFlow::next(Line& line) {
  const std::uint64_t searched = labels_ ? labels_->steps() : 0;
  if (repeated_lines_ > max_repeated_lines_ || searched > max_searched_lines) {
    addNotFollowed(sink_, ProblemKind::too_many_lines_repeated, {line.number, 1, 2},
                   {fact::Count{max_repeated_lines_}});
    return false;
  }
  if (!lines_.next(line.text)) {
    if (!frames_.empty()) addNotFollowed(sink_, ProblemKind::end_within_subprogram, {lines_.lineNumber(), 0, 0});
    frames_.clear();
    return false;
  }
  line.number = lines_.lineNumber();
  if (line.number > furthest_line_) {
    furthest_line_ = line.number;
  } else {
    ++repeated_lines_;
  }
  machine_.in_subprogram = inSubprogram();
  return true;
}

ResumeBar ProgramFlow::resumeBar(std::uint32_t line_number) {
  if (inSubprogram()) return ResumeBar::in_subprogram;
  if (!frames_.empty()) return ResumeBar::in_loop;
  if (!labels_) return ResumeBar::none;
  return labels_->inBranch(line_number) ? ResumeBar::in_branch : ResumeBar::none;
}

bool ProgramFlow::inSubprogram() const {
  return std::any_of(frames_.begin(), frames_.end(), [](const Frame& f) { return !isLoop(f); });
}

const ProgramLabels& ProgramFlow::labels() {
  if (!labels_) labels_.emplace(text_);
  return *labels_;
}

bool ProgramFlow::push(Frame frame, Place place) {
  if (frames_.size() >= deepest_calls) {
    addNotFollowed(sink_, ProblemKind::nested_too_deep, place, {fact::Count{deepest_calls}});
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

void ProgramFlow::callSubprogram(Line& line, Place place) {
  LineWords& w = line.words;
  w.used |= LineWords::bits('P', 'L');
  int number = 0, times = 1;
  if (!w.has('P') || !nearInteger(w.value('P'), number) || number < 0) {
    addNotFollowed(sink_, ProblemKind::call_without_number, place);
    return;
  }
  if (w.has('L') && (!nearInteger(w.value('L'), times) || times < 0)) {
    addProblem(sink_, ProblemKind::call_repeats_faulty, placeOf(line, w.word('L')), {textOf(line, w.word('L'))});
    times = 1;
  }
  const std::string name = std::to_string(number);
  const std::size_t label = labels().find(name, Flow::label);
  if (label == labels().size()) {
    addNotFollowed(sink_, ProblemKind::subprogram_missing, place, {fact::Code{"O" + name}});
    return;
  }
  if (times == 0) return;
  Frame f;
  f.kind = Kind::m98;
  f.name = labels()[label].name;
  f.start = labels()[label].line;
  f.back = lines_.mark();
  f.remaining = static_cast<std::uint64_t>(times);
  if (!push(f, place)) return;
  sink_.resuming.useSubprogram(f.start.line_number + 1);
  lines_.seek(f.start);
}

void ProgramFlow::endSubprogram(Place place) {
  // Loops that were not finished end with the subprogram.
  while (!frames_.empty() && isLoop(frames_.back())) frames_.pop_back();
  if (frames_.empty()) {
    addProblemOnce(sink_, ProblemKind::program_endless, place);
    machine_.ended = machine_.ended_by_word = true;
    addEvent(sink_, EventKind::end, 0, place);
    return;
  }
  if (frames_.back().kind == Kind::call) {
    finishCall(place);
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

std::optional<double> ProgramFlow::argument(const Line& line, std::size_t index, Place place) {
  const Label& label = line.block.label;
  if (index >= label.arguments.size()) {
    addNotFollowed(sink_, ProblemKind::o_word_without_value, place);
    return std::nullopt;
  }
  double value = 0;
  const bool good = workOut(line, machine_.parameters, sink_, label.arguments[index], place, value);
  return good ? std::optional(value) : std::nullopt;
}

void ProgramFlow::leave(std::size_t label, Place place) {
  if (label == labels().size()) {
    addNotFollowed(sink_, ProblemKind::o_word_without_end, place);
    return;
  }
  lines_.seek(labels()[label].after);
}

void ProgramFlow::call(const Line& line, Place place) {
  const Label& label = line.block.label;
  const std::size_t sub = labels().find(label.name, Flow::sub);
  if (sub == labels().size()) {
    addNotFollowed(sink_, ProblemKind::subprogram_missing, place,
                   {fact::Code{std::string("O").append(shownText(label.name))}});
    return;
  }
  std::array<double, local_parameters> values{};  // what is not given is 0
  for (std::size_t i = 0; i < std::min(label.arguments.size(), values.size()); ++i) {
    values[i] = argument(line, i, place).value_or(0);
  }
  Frame f;
  f.kind = Kind::call;
  f.name = labels()[sub].name;
  f.start = labels()[sub].after;
  f.back = lines_.mark();
  f.parameters = localParameters(machine_.parameters);
  f.resuming = sink_.resuming.saveParameters(local_parameters);
  if (!push(f, place)) return;
  sink_.resuming.useSubprogram(labels()[sub].after.line_number);
  for (int i = 1; i <= local_parameters; ++i) sink_.resuming.setParameter(i);
  setLocalParameters(machine_.parameters, values);
  for (int i = 1; i <= local_parameters; ++i) machine_.parameters.markSet(i);
  lines_.seek(f.start);
}

void ProgramFlow::finishCall(Place place) {
  while (!frames_.empty() && frames_.back().kind != Kind::call) frames_.pop_back();
  if (frames_.empty()) {
    addNotFollowed(sink_, ProblemKind::return_outside_subprogram, place);
    return;
  }
  const Frame& f = frames_.back();
  setLocalParameters(machine_.parameters, f.parameters);
  sink_.resuming.restoreParameters(local_parameters, f.resuming);
  lines_.seek(f.back);
  frames_.pop_back();
}

// At an if or elseif whose turn it is: into its part, or on to the next one.
void ProgramFlow::choose(const Line& line, std::size_t label, Place place) {
  choose_next_ = false;
  if (argument(line, 0, place).value_or(0) != 0) return;
  const ProgramLabels& all = labels();
  const std::size_t part = all.nextOf(label, Flow::elseif, Flow::else_, Flow::endif);
  if (part == all.size() || all[part].flow != Flow::elseif) {
    leave(part, place);
    return;
  }
  choose_next_ = true;
  lines_.seek(all[part].line);
}

void ProgramFlow::branch(const Line& line, std::size_t label, Place place) {
  const Flow flow = labels()[label].flow;
  if (flow == Flow::if_ || (flow == Flow::elseif && choose_next_)) {
    choose(line, label, place);
  } else if (flow != Flow::endif) {  // the part before it was run
    leave(labels().nextOf(label, Flow::endif), place);
  }
}

// do, while, repeat: `end` is the line that closes the loop.
void ProgramFlow::enterLoop(Frame frame, std::size_t end, Place place) {
  if (!push(frame, place)) leave(end, place);
}

void ProgramFlow::doLine(std::size_t label, Place place) {
  const LabelLine& here = labels()[label];
  enterLoop({Kind::do_loop, here.name, here.after, {}, 0, {}, {}}, labels().nextOf(label, Flow::while_), place);
}

void ProgramFlow::whileLine(const Line& line, std::size_t label, Place place) {
  const LabelLine& here = labels()[label];
  const bool holds = argument(line, 0, place).value_or(0) != 0;
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
    leave(end, place);
  } else if (current == nullptr) {
    enterLoop({Kind::while_loop, here.name, here.line, {}, 0, {}, {}}, end, place);
  }
}

void ProgramFlow::repeatLine(const Line& line, std::size_t label, Place place) {
  const LabelLine& here = labels()[label];
  const std::size_t end = labels().nextOf(label, Flow::endrepeat);
  const double times = argument(line, 0, place).value_or(0);
  if (!(times >= 1)) {
    leave(end, place);
    return;
  }
  enterLoop({Kind::repeat, here.name, here.after, {}, static_cast<std::uint64_t>(std::min(times, 1e12)), {}, {}}, end,
            place);
}

void ProgramFlow::endOfLoop(std::size_t label, Place place) {
  Frame* const current = loopNamed(labels()[label].name);
  if (current == nullptr) {
    addNotFollowed(sink_, ProblemKind::loop_end_alone, place);
  } else if (current->kind != Kind::repeat || --current->remaining > 0) {
    lines_.seek(current->start);
  } else {
    frames_.pop_back();
  }
}

// break, continue
void ProgramFlow::cutLoopShort(std::size_t label, Place place) {
  const ProgramLabels& all = labels();
  const LabelLine& here = all[label];
  while (!frames_.empty() && isLoop(frames_.back()) && loopNamed(here.name) == nullptr) frames_.pop_back();
  Frame* const loop = loopNamed(here.name);
  if (loop == nullptr) {
    addNotFollowed(sink_, ProblemKind::loop_left_from_outside, place);
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
  leave(end, place);
}

void ProgramFlow::runLabel(const Line& line) {
  const Label& word = line.block.label;
  const Place place = placeOf(line, word);
  const std::size_t label = labels().at(line.number);
  if (label == labels().size()) return;
  switch (word.flow) {
    case Flow::none:
    case Flow::label:
      return;
    case Flow::sub:
      leave(labels().nextOf(label, Flow::endsub), place);
      return;  // a definition is passed over
    case Flow::call:
      call(line, place);
      return;
    case Flow::endsub:
    case Flow::return_:
      finishCall(place);
      return;
    case Flow::if_:
    case Flow::elseif:
    case Flow::else_:
    case Flow::endif:
      branch(line, label, place);
      return;
    case Flow::do_:
      doLine(label, place);
      return;
    case Flow::while_:
      whileLine(line, label, place);
      return;
    case Flow::repeat:
      repeatLine(line, label, place);
      return;
    case Flow::endwhile:
    case Flow::endrepeat:
      endOfLoop(label, place);
      return;
    case Flow::break_:
    case Flow::continue_:
      cutLoopShort(label, place);
      return;
  }
}

}  // namespace provecut::interpreter
