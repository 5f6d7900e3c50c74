// The order in which a program's lines are run: subprograms (M98, M99; O sub and call) and O-word branches and loops.
// None of it is in the published standard; all of it is bounded.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "parser/base/line_reader.h"
#include "parser/interpreter/line.h"
#include "parser/interpreter/machine_state.h"
#include "parser/interpreter/program_labels.h"
#include "parser/interpreter/sink.h"

namespace provecut::interpreter {

constexpr std::size_t deepest_calls = 64;                 // calls and loops within each other
constexpr int local_parameters = 30;                      // #1 to #30 are a subprogram's own
constexpr std::uint64_t max_searched_lines = 50'000'000;  // looked through for the ends of O words

class ProgramFlow {
 public:
  // Parameters of calls are set in `machine`, problems go to `sink`; both must outlive this.
  ProgramFlow(std::string_view text, std::uint64_t max_repeated_lines, MachineState& machine, Sink& sink)
      : text_(text), lines_(text), max_repeated_lines_(max_repeated_lines), machine_(machine), sink_(sink) {}

  // Sets the text and number of the next line to run, and whether that is in a subprogram; false at the end.
  bool next(Line& line);
  LineReader& lines() { return lines_; }
  // Why the program cannot be resumed at the line of this number, which was the last one to run.
  ResumeBar resumeBar(std::uint32_t line_number);

  void runLabel(const Line& line);               // its O word
  void callSubprogram(Line& line, Place place);  // M98 P L
  void endSubprogram(Place place);               // M99

 private:
  enum class Kind : std::uint8_t { m98, call, do_loop, while_loop, repeat };
  struct Frame {
    Kind kind = Kind::call;
    std::string name;
    LineReader::Mark start;  // of the body
    LineReader::Mark back;   // calls: where to go on
    std::uint64_t remaining = 0;
    std::array<double, local_parameters> parameters{};  // #1 to #30 of the caller
    ResumeTracker::Saved resuming;                      // the same
  };
  static bool isLoop(const Frame& f) { return f.kind != Kind::m98 && f.kind != Kind::call; }

  bool inSubprogram() const;
  const ProgramLabels& labels();
  bool push(Frame frame, Place place);
  Frame* loopNamed(std::string_view name);     // the innermost loop, when it has this name
  void leave(std::size_t label, Place place);  // goes on after a label line
  void call(const Line& line, Place place);
  void finishCall(Place place);
  void choose(const Line& line, std::size_t label, Place place);
  void branch(const Line& line, std::size_t label, Place place);
  void enterLoop(Frame frame, std::size_t end, Place place);
  void doLine(std::size_t label, Place place);
  void whileLine(const Line& line, std::size_t label, Place place);
  void repeatLine(const Line& line, std::size_t label, Place place);
  void endOfLoop(std::size_t label, Place place);
  void cutLoopShort(std::size_t label, Place place);
  std::optional<double> argument(const Line& line, std::size_t index, Place place);

  std::string_view text_;
  LineReader lines_;
  std::uint64_t max_repeated_lines_;
  MachineState& machine_;
  Sink& sink_;
  std::optional<ProgramLabels> labels_;
  std::vector<Frame> frames_;
  bool choose_next_ = false;         // an elseif is reached because no part before it was run
  std::uint32_t furthest_line_ = 0;  // lines up to here have been run before
  std::uint64_t repeated_lines_ = 0;
};

}  // namespace provecut::interpreter
