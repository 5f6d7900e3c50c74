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
#include "parser/interpreter/program_labels.h"

namespace provecut::interpreter {

struct Reading;

constexpr std::size_t deepest_calls = 64;                 // calls and loops within each other
constexpr std::uint64_t max_searched_lines = 50'000'000;  // looked through for the ends of O words

class ProgramFlow {
 public:
  explicit ProgramFlow(std::string_view text) : text_(text), lines_(text) {}

  bool next(Reading& r);  // sets the next line to run; false at the end
  LineReader& lines() { return lines_; }

  void runLabel(Reading& r);                     // the O word of r.block
  void callSubprogram(Reading& r, Place place);  // M98 P L
  void endSubprogram(Reading& r, Place place);   // M99
  bool inSubprogram() const;

 private:
  enum class Kind : std::uint8_t { m98, call, do_loop, while_loop, repeat };
  struct Frame {
    Kind kind = Kind::call;
    std::string name;
    LineReader::Mark start;  // of the body
    LineReader::Mark back;   // calls: where to go on
    std::uint64_t remaining = 0;
    std::array<double, 30> parameters{};  // #1 to #30 of the caller
  };
  static bool isLoop(const Frame& f) { return f.kind != Kind::m98 && f.kind != Kind::call; }

  const ProgramLabels& labels();
  bool push(Reading& r, Frame frame, Place place);
  Frame* loopNamed(std::string_view name);                 // the innermost loop, when it has this name
  void leave(Reading& r, std::size_t label, Place place);  // goes on after a label line
  void call(Reading& r, Place place);
  void finishCall(Reading& r, Place place);
  void choose(Reading& r, std::size_t label, Place place);
  void branch(Reading& r, std::size_t label, Place place);
  void enterLoop(Reading& r, Frame frame, std::size_t end, Place place);
  void doLine(Reading& r, std::size_t label, Place place);
  void whileLine(Reading& r, std::size_t label, Place place);
  void repeatLine(Reading& r, std::size_t label, Place place);
  void endOfLoop(Reading& r, std::size_t label, Place place);
  void cutLoopShort(Reading& r, std::size_t label, Place place);
  std::optional<double> argument(Reading& r, std::size_t index, Place place);

  std::string_view text_;
  LineReader lines_;
  std::optional<ProgramLabels> labels_;
  std::vector<Frame> frames_;
  bool choose_next_ = false;         // an elseif is reached because no part before it was run
  std::uint32_t furthest_line_ = 0;  // lines up to here have been run before
  std::uint64_t repeated_lines_ = 0;
};

}  // namespace provecut::interpreter
