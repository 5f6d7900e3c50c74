#include "parser/interpreter/interpreter.h"

#include <algorithm>

#include "parser/base/line_reader.h"
#include "parser/base/quoted_text.h"
#include "parser/block/block_grammar.h"
#include "parser/block/block_scan.h"
#include "parser/interpreter/moves.h"
#include "parser/interpreter/steps.h"

namespace provecut {

namespace interpreter {

namespace {

constexpr std::size_t longest_line = 65'536;        // beyond: not read, so that time and memory stay bounded
constexpr std::size_t longest_standard_line = 256;  // NISTIR 6556 3.3
constexpr std::size_t max_reserved = 4'000'000;

// Where the comment ends that `at` stands in; `at` itself when it stands in none.
std::size_t commentEnd(std::string_view text, std::size_t at) {
  for (std::size_t q = at; q-- > 0 && text[q] != '\n' && text[q] != '\r' && text[q] != ')';) {
    if (text[q] != '(' && text[q] != ';') continue;
    return std::min(text.find_first_of(text[q] == '(' ? ")\r\n" : "\r\n", at), text.size());
  }
  return at;
}

// Old systems end their files with Ctrl-Z or NULs, perhaps with line ends between.
std::string_view withoutTail(std::string_view text) {
  using namespace std::string_view_literals;
  const std::size_t last = text.find_last_not_of("\x1A\0 \t\r\n"sv);
  return text.substr(0, text.find_first_of("\x1A\0"sv, last == std::string_view::npos ? 0 : last + 1));
}

// True if M6 stands anywhere outside comments: without it a T word alone changes the tool.
bool usesToolChange(std::string_view text) {
  for (const char letter : {'M', 'm'}) {
    for (std::size_t at = text.find(letter); at != std::string_view::npos; at = text.find(letter, at + 1)) {
      std::size_t p = at + 1;
      while (p < text.size() && (text[p] == ' ' || text[p] == '\t' || text[p] == '0')) ++p;
      if (p == text.size() || text[p] != '6') continue;
      if (p + 1 < text.size() && text[p + 1] >= '0' && text[p + 1] <= '9') continue;
      const std::size_t end = commentEnd(text, at);
      if (end == at) return true;
      at = end;
    }
  }
  return false;
}

bool containsWord(std::string_view text, std::string_view lower_word) {
  const auto same = [](char a, char b) { return (a >= 'A' && a <= 'Z' ? static_cast<char>(a - 'A' + 'a') : a) == b; };
  return std::search(text.begin(), text.end(), lower_word.begin(), lower_word.end(), same) != text.end();
}

// "(T1 D=6 flat end mill)", "(3MM CRB 2FL)", "(Schaftfraeser 6mm)", "(STOCK 100 x 50 x 18)": what people and generators
// write about their tools and their stock.
bool describesTool(std::string_view comment) {
  while (!comment.empty() && (comment.front() == ' ' || comment.front() == '\t')) comment.remove_prefix(1);
  if (comment.size() >= 2 && (comment[0] == 'T' || comment[0] == 't') && comment[1] >= '0' && comment[1] <= '9')
    return true;
  for (const std::string_view word :
       {"tool",    "endmill",   "end mill",     "end-mill",   "face mill", "facemill",    "mill head", "drill",
        "cutter",  "ball nose", "ballnose",     "ball end",   "ball mill", "v-bit",       "vbit",      "v bit",
        "v-carve", "diameter",  " dia",         "carbide",    "crb",       "hss",         "flute",     "fraes",
        "fräs",    "fras",      "fres",         "frais",      "bohrer",    "broca",       "foret",     "reamer",
        "stock",   "workpiece", "rohteil",      "surfac",     "engrav",    "material",    "origin",    "wcs",
        "g54",     "zero",      "roundover",    "ogee",       "dovetail",  "keyhole",     "upcut",     "up-cut",
        "downcut", "down-cut",  "straight bit", "router bit", "spiral",    "compression", "chamfer",   "countersink",
        "cove",    "t-slot",    "tslot",        "flycutter",  "spoilboard"}) {
    if (containsWord(comment, word)) return true;
  }
  return false;
}

// "(PANEL 4X3 .063 ALUM)", "(Platte 600 x 400 x 18)"
bool describesStock(std::string_view comment) {
  const auto digit = [&](std::size_t at) {
    return at < comment.size() && ((comment[at] >= '0' && comment[at] <= '9') || comment[at] == '.');
  };
  bool by = false;
  for (std::size_t i = 1; i + 1 < comment.size(); ++i) {
    if (static_cast<char>(comment[i] | 0x20) != 'x') continue;
    by = by || (digit(comment.find_last_not_of(" \"", i - 1)) && digit(comment.find_first_not_of(' ', i + 1)));
  }
  if (!by) return false;
  for (const std::string_view word :
       {"panel", "sheet", "plate", "blank", "board", "billet", "platte", "brut", "panneau", "tablero"}) {
    if (containsWord(comment, word)) return true;
  }
  return false;
}

// "(OP 2)", "(FACE BOTTOM)", "(turn the part over)": from here on the stock may lie anew.
bool describesSetup(std::string_view comment) {
  while (!comment.empty() && comment.front() == ' ') comment.remove_prefix(1);
  const auto letter = [&](std::size_t i) { return i < comment.size() ? static_cast<char>(comment[i] | 0x20) : ' '; };
  if (letter(0) == 'o' && letter(1) == 'p') {
    std::size_t i = 2;
    while (letter(i) >= 'a' && letter(i) <= 'z') ++i;
    while (i < comment.size() && (comment[i] == ' ' || comment[i] == '#')) ++i;
    if (i < comment.size() && comment[i] >= '0' && comment[i] <= '9') return true;
  }
  for (const std::string_view word : {"flip", "turn over", "turn the ", "bottom", "underside", "other side", "side 2",
                                      "second side", "2nd side", "2nd setup", "setup 2"}) {
    if (containsWord(comment, word)) return true;
  }
  return false;
}

// Where "T1 8 mm flat, T2 6 mm ball" begins to speak of another tool: the places of its T words behind the first.
std::vector<std::size_t> furtherTools(std::string_view comment) {
  const auto isWordPart = [&](std::size_t i) {
    const char c = static_cast<char>(comment[i] | 0x20);
    return (c >= 'a' && c <= 'z') || (comment[i] >= '0' && comment[i] <= '9');
  };
  std::vector<std::size_t> starts;
  for (std::size_t i = 0; i + 1 < comment.size(); ++i) {
    const bool t = (comment[i] == 'T' || comment[i] == 't') && (i == 0 || !isWordPart(i - 1));
    if (t && comment[i + 1] >= '0' && comment[i + 1] <= '9') starts.push_back(i);
  }
  if (!starts.empty()) starts.erase(starts.begin());
  return starts;
}

// What stands beside a T or M6 speaks of that bit: on its line, alone on the line before it, or on the one behind it.
class ToolComments {
 public:
  void note(const Line& line, Sink& sink) {
    const auto& words = line.block.words;
    const bool calls = std::any_of(words.begin(), words.end(), [](const Word& w) {
      return w.letter == 'T' || (w.letter == 'M' && w.value == 6 && w.expression.empty());
    });
    if (words.empty() && line.block.comments.empty()) return;
    if (calls) {
      for (const auto& [place, text] : before_) add(sink, place, text);
    }
    before_.clear();
    const bool beside = calls || (words.empty() && behind_call_);
    for (const Comment& c : line.block.comments) {
      const Place place = placeOf(line, c);
      if (beside || describesTool(c.text) || describesStock(c.text) || describesSetup(c.text)) {
        add(sink, place, c.text);
      } else if (words.empty()) {
        before_.emplace_back(place, std::string(c.text.substr(0, longest_comment)));
      }
    }
    behind_call_ = calls;
  }

 private:
  static constexpr std::size_t max_comments = 1000, longest_comment = 200;

  static void add(Sink& sink, Place place, std::string_view text) {
    std::size_t from = 0;
    for (const std::size_t next : furtherTools(text)) {
      const std::string_view one = text.substr(from, next - from);
      addOne(sink, place, one.substr(0, one.find_last_not_of(" ,;/+&") + 1));
      from = next;
    }
    addOne(sink, place, text.substr(from));
  }

  static void addOne(Sink& sink, Place place, std::string_view text) {
    if (sink.tool_comments >= max_comments) return;
    ++sink.tool_comments;
    addEvent(sink, EventKind::comment_tool, 0, place, shownText(text, longest_comment));
  }

  std::vector<std::pair<Place, std::string>> before_;
  bool behind_call_ = false;
};

// The last motion that is no dwell; none: null.
const Motion* lastMove(const Program& program) {
  const auto last =
      std::find_if(program.motions.rbegin(), program.motions.rend(), [](const Motion& m) { return moves(m); });
  return last == program.motions.rend() ? nullptr : &*last;
}

ResumePoint resumePoint(const MachineState& machine) {
  const ModalState& modal = machine.modal;
  ResumePoint p;
  p.at = machine.position;
  p.shift = machine.offsets.shift();
  p.tool = modal.tool;
  p.selected_tool = modal.selected_tool;
  p.length_of = modal.length_of;
  p.motion = modal.motion;
  p.feed = modal.feed;
  p.rpm = modal.rpm;
  p.tolerance_mm = modal.path_tolerance_mm;
  p.spindle = modal.spindle;
  p.plane = modal.plane;
  p.path_control = modal.path_control;
  p.system = static_cast<std::uint8_t>(modal.system);
  p.inch = modal.inch;
  p.older_unit_code = modal.older_unit_code;
  p.incremental = modal.incremental;
  p.arc_centre_absolute = modal.arc_centre_absolute;
  p.inverse_time = modal.inverse_time;
  p.feed_per_turn = modal.feed_per_turn;
  p.retract_to_r = modal.retract_to_r;
  p.length_offset = modal.length_offset;
  p.compensation_on = machine.compensation.side != 0;
  p.mist = modal.mist;
  p.flood = modal.flood;
  p.overrides_off = modal.overrides_off;
  return p;
}

// Reads a program's text line by line into motions.
class ProgramReader {
 public:
  // `cut_off`: the file went on with Ctrl-Z or NULs.
  ProgramReader(std::string_view text, bool cut_off, const InterpreterOptions& options);

  Program read();

 private:
  void readLine();
  void readPercent(Place place);
  void noteBlockDelete();
  void readStatement();
  void takeHomedAxes();
  bool addResumePoint();
  void keepResumePoint(std::uint32_t first);
  void lookAfterEnd();
  void reportEnd();

  const bool cut_off_;
  ToolComments tool_comments_;
  Input input_;
  MachineState machine_;
  Sink sink_;
  ProgramFlow flow_;
  Line line_;
  bool any_words_ = false;    // a word has been read
  bool asked_noted_ = false;  // the resume line that the options ask for
  bool percent_open_ = false, percent_closed_ = false;
  Place percent_place_;
};

ProgramReader::ProgramReader(std::string_view text, bool cut_off, const InterpreterOptions& options)
    : cut_off_(cut_off),
      input_{options, usesToolChange(text)},
      flow_(text, options.max_repeated_lines, machine_, sink_) {
  sink_.strict = options.strict;
  sink_.max_motions = options.max_motions;
  if (options.strict) machine_.parameters.readNoneBeyond(last_parameter);
  machine_.modal.tool = options.tool_in_spindle;
  machine_.modal.inch = machine_.modal.other_unit = options.other_unit;
  machine_.modal.arc_centre_absolute = options.arc_centres_absolute;
  machine_.position = {0, 0, options.top_of_travel_mm};
  if (const auto g54 = options.work_offset_mm.find(1); g54 != options.work_offset_mm.end())
    machine_.offsets.origin = g54->second;
  // A move takes at least four characters and nearly always a line of its own.
  sink_.program.motions.reserve(std::min(
      {countLineEnds(text) + 16, text.size() / 4 + 16, max_reserved, static_cast<std::size_t>(options.max_motions)}));
}

// The % lines that may frame a program (NISTIR 6556 3.1).
void ProgramReader::readPercent(Place place) {
  if (!percent_open_ && !any_words_) {
    percent_open_ = true;
    percent_place_ = place;
    return;
  }
  if (!percent_open_) {
    const bool moves = !sink_.program.motions.empty();
    addProblem(sink_, moves ? ProblemKind::percent_ends_program : ProblemKind::percent_only_closes, place);
  }
  percent_closed_ = true;
  machine_.ended = true;
}

void ProgramReader::noteBlockDelete() {
  const bool on = input_.options.block_delete;
  addProblemOnce(sink_, on ? ProblemKind::block_delete_skipped : ProblemKind::block_delete_run, wholeLine(line_));
}

void ProgramReader::readStatement() {
  const Statement& s = line_.block.statement;
  const Place place = placeOf(line_, s);
  switch (s.kind) {
    case StatementKind::none:
      return;
    case StatementKind::text:
      return addProblemOnce(sink_, ProblemKind::statement_skipped, place, {textOf(line_, s)});
    case StatementKind::homing:
      addProblemOnce(sink_, ProblemKind::homing, place, {textOf(line_, s)});
      return runHoming(input_.options, machine_, sink_, place);
    case StatementKind::moves:
      return addNotFollowed(sink_, ProblemKind::statement_not_followed, place, {textOf(line_, s)});
  }
}

// "G28 X Y", as some controllers home: the letters name the axes, and have no number.
void ProgramReader::takeHomedAxes() {
  Block& block = line_.block;
  line_.homed = {};
  const bool home = std::any_of(block.words.begin(), block.words.end(),
                                [](const Word& w) { return w.letter == 'G' && w.expression.empty() && w.value == 28; });
  if (!home || block.faults.size() != 1 || sink_.strict) return;
  const Fault& f = block.faults.front();
  std::array<bool, 3> named{};
  for (const char c : line_.text.substr(f.column - 1, f.end_column - f.column)) {
    const char letter = upper(c);
    if (letter >= 'X' && letter <= 'Z') {
      named[static_cast<std::size_t>(letter - 'X')] = true;
    } else if (!isBlank(c)) {
      return;
    }
  }
  line_.homed = named;
  line_.homed_place = placeOf(line_, f);
  block.faults.clear();
}

void ProgramReader::readLine() {
  const fact::Count size{line_.text.size()};
  if (size.count > longest_line) {
    addNotFollowed(sink_, ProblemKind::line_too_long, {line_.number, 1, 2}, {size});
    return;
  }
  if (size.count > longest_standard_line) {
    addProblem(sink_, ProblemKind::line_over_256,
               {line_.number, longest_standard_line + 1, wholeLine(line_).end_column}, {size});
  }
  const Block& block = line_.block;
  readBlock(line_.text, line_.block);
  tool_comments_.note(line_, sink_);
  if (block.percent) {
    for (const Extension& e : block.extensions)
      addProblem(sink_, ProblemKind::text_after_percent, placeOf(line_, e), {textOf(line_, e)});
    readPercent({line_.number, 1, 2});
    return;
  }
  any_words_ |= !block.words.empty() || !block.settings.empty();
  takeHomedAxes();
  reportSyntax(line_, sink_);
  if (block.block_delete && !block.empty()) noteBlockDelete();
  if (block.block_delete && input_.options.block_delete) return;  // read all the same: NISTIR 6556 A.1
  readStatement();
  if (block.empty()) return;
  const bool point = addResumePoint();
  const std::uint32_t first = nextMotion(sink_);
  if (!block.words.empty() || !block.settings.empty()) {
    if (!block.operations.empty()) setReadParameters(input_.options, machine_);
    gatherWords(input_, line_, machine_, sink_);
    runLine(input_, flow_, line_, machine_, sink_);
  }
  sink_.tally.line_before_numbered = block.numbered;
  if (point) keepResumePoint(first);
  if (block.label.flow > Flow::label) {
    noteUse(sink_, "subprograms", placeOf(line_, block.label));
    flow_.runLabel(line_);
  }
}

// What is in force before the line about to run, where it may turn out to be a line to resume at; else false.
bool ProgramReader::addResumePoint() {
  const bool asked = line_.number == input_.options.resume_line && !asked_noted_;
  const Motion* last = lastMove(sink_.program);
  const bool lifted = last != nullptr && last->kind == MotionKind::rapid && last->end.z > last->start.z;
  if (!asked && (!lifted || sink_.resuming.full())) return false;
  asked_noted_ |= asked;
  ResumePoint p = resumePoint(machine_);
  p.line = line_.number;
  p.before_motion = nextMotion(sink_);
  p.lifted = lifted;
  p.height_unknown = lifted && (last->flags & motion_height_unknown) != 0;
  p.bar = flow_.resumeBar(line_.number);
  if (p.bar == ResumeBar::none && !startKnown(machine_)) p.bar = ResumeBar::position_unknown;
  sink_.resuming.add(std::move(p));
  return true;
}

// Only the line that was asked for, and those that begin with a G0, are kept. `first`: the first motion's index.
void ProgramReader::keepResumePoint(std::uint32_t first) {
  ResumePoint& p = sink_.resuming.last();
  const std::vector<Motion>& motions = sink_.program.motions;
  const bool rapid = first < motions.size() && motions[first].kind == MotionKind::rapid;
  p.lifted = p.lifted && rapid && machine_.modal.motion == 0 && !line_.words.has(GGroup::non_modal);
  if (!p.lifted && p.line != input_.options.resume_line) sink_.resuming.drop();
}

// Lines after the end are not run; say so where they would do something.
void ProgramReader::lookAfterEnd() {
  constexpr std::uint32_t max_looked_at = 10'000;
  LineReader& lines = flow_.lines();
  std::uint32_t looked = 0;
  bool said = false, subprograms = false;
  while (lines.next(line_.text)) {
    const std::size_t first = line_.text.find_first_not_of(" \t");
    percent_closed_ |= first != std::string_view::npos && line_.text[first] == '%';
    if (line_.text.size() > longest_line || said || subprograms || ++looked > max_looked_at) continue;
    line_.number = lines.lineNumber();
    readBlock(line_.text, line_.block);
    subprograms = line_.block.label.flow != Flow::none;
    const std::vector<Word>& words = line_.block.words;
    const bool only_end = std::all_of(words.begin(), words.end(),
                                      [](const Word& w) { return w.letter == 'M' && (w.value == 2 || w.value == 30); });
    // Lines run before the end, in a loop or subprogram, are none of them.
    if (subprograms || only_end || line_.number <= sink_.program.lines) continue;
    said = true;
    addProblem(sink_, ProblemKind::words_after_end, {line_.number, words.front().column, words.back().end_column});
  }
  sink_.program.lines = std::max(sink_.program.lines, lines.lineNumber());
}

void ProgramReader::reportEnd() {
  const Place end{sink_.program.lines, 0, 0};
  if (percent_open_ && !percent_closed_) addProblem(sink_, ProblemKind::percent_only_opens, percent_place_);
  // A % without its partner that ends the program has been told already.
  const bool ends = machine_.ended_by_word || (percent_closed_ && (percent_open_ || !sink_.strict));
  if (!ends && any_words_ && (sink_.strict || !sink_.program.motions.empty()))
    addProblem(sink_, ProblemKind::end_missing, end);
  if (!machine_.ended_by_word && machine_.modal.incremental && any_words_)
    addProblem(sink_, ProblemKind::incremental_at_end, end);
  reportFeedFromUnknown(sink_);
}

Program ProgramReader::read() {
  while (!machine_.ended && !sink_.over_limit && flow_.next(line_)) {
    sink_.program.lines = std::max(sink_.program.lines, line_.number);
    readLine();
  }
  if (sink_.over_limit) {
    addNotFollowed(sink_, ProblemKind::too_many_moves, {line_.number, 1, 2}, {fact::Count{sink_.max_motions}});
  }
  lookAfterEnd();
  reportEnd();
  if (cut_off_) addProblem(sink_, ProblemKind::end_of_file_mark, {sink_.program.lines, 0, 0});
  finishProblems(sink_);
  sink_.program.resumes = sink_.resuming.finish();
  return std::move(sink_.program);
}

}  // namespace

}  // namespace interpreter

Program interpret(std::string_view text, const InterpreterOptions& options) {
  const std::string_view program = interpreter::withoutTail(text);
  return interpreter::ProgramReader(program, program.size() < text.size(), options).read();
}

}  // namespace provecut
