// State of reading one program, shared by the interpreter's parts. Not for use outside parser/.
#pragma once

#include <array>
#include <limits>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <utility>

#include "parser/block/block.h"
#include "parser/interpreter/interpreter.h"
#include "parser/interpreter/line_words.h"
#include "parser/interpreter/modal_state.h"
#include "parser/interpreter/parameter.h"
#include "parser/interpreter/program_flow.h"

namespace provecut::interpreter {

struct Reading {
  Reading(std::string_view text, const InterpreterOptions& o) : options(o), flow(text) {}

  const InterpreterOptions& options;
  ProgramFlow flow;
  Program program;
  ModalState state;
  CycleState cycle;
  CompensationState compensation;
  ParameterTable parameters;

  // The tool's place. A component is known once an absolute move named it.
  WorkPoint position;
  std::array<bool, 3> known{false, false, false};
  std::array<bool, 3> start_known{false, false, false};  // `known` before the move being made

  // absolute = program + origin + g92, mm.
  Vec3 origin, g92, g92_stored;
  std::map<int, Vec3> systems;                       // origins relative to the job's zero, where known
  std::array<std::optional<double>, 3> first_g54{};  // set by G10, machine coordinates: stands for the job's zero

  Block block;
  LineWords line_words;
  std::string_view line;
  std::uint32_t line_number = 0;

  bool uses_tool_change = false;  // M6 stands somewhere in the program
  bool in_subprogram = false, in_cycle = false;
  bool any_words = false;  // a word has been read
  bool ended = false;      // M2, M30, the closing % …
  bool ended_by_word = false;
  bool over_limit = false;  // more motions than allowed
  bool percent_open = false, percent_closed = false;
  Place percent_place;
  std::size_t comment_count = 0;      // comments kept as events
  std::uint64_t repeated_points = 0;  // feed moves that end where they start
  Place first_repeated_point;
  double lowest_rapid = std::numeric_limits<double>::infinity();  // where rapids end
  double lowest_feed_from_unknown =
      std::numeric_limits<double>::infinity();  // of those above the work zero; what to say of it:
  std::pair<std::string, Place> feed_from_unknown;

  std::map<std::string_view, std::uint32_t> problem_counts;
  std::map<std::string_view, std::size_t>
      first_uncounted;  // id → index of the problem that stands for all further ones
  std::set<std::string_view> said_once;
  Problem spare_problem;  // given out where nothing is kept
  Motion spare_motion;
};

// ---- Problems. Every id is one of problem_ids.h.

Place placeOf(const Reading& r, const Word& w);
std::string shownWord(const Reading& r, const Word& w);  // the word's own text, for messages

// Adds a problem; after the first hundred of one id they are only counted.
Problem& addProblem(Reading& r, std::string_view id, Place place, std::string message, std::string assumed = {},
                    std::string help = {});
// Only the first time in this program; null afterwards.
Problem* addProblemOnce(Reading& r, std::string_view id, Place place, std::string message, std::string assumed = {},
                        std::string help = {});
// The program cannot be followed whole from here on.
void addNotFollowed(Reading& r, std::string_view id, Place place, std::string message, std::string assumed = {},
                    std::string help = {});
// What the standard refuses and common practice takes: `strict_id` when reading strictly, else `usual_id` (empty:
// nothing said).
void tolerate(Reading& r, std::string_view usual_id, std::string_view strict_id, Place place, std::string message,
              std::string assumed = {}, std::string help = {});
// Sorts the problems by place and writes the counts of those not kept.
void finishProblems(Reading& r);

// ---- Motions and events.

// Is it known where the axes stand before the move being made?
inline bool startKnown(const Reading& r) {
  return r.start_known[0] && r.start_known[1] && r.start_known[2];
}
// One motion from r.position to `end` (mm), which becomes the position.
Motion& addMotion(Reading& r, MotionKind kind, WorkPoint end, Place place);
void addDwell(Reading& r, double seconds, Place place);
void addEvent(Reading& r, EventKind kind, double value, Place place, std::string text = {});
// Notes the first use of something that not every machine takes ("arcs", "canned-cycles" …: the job file's `accepts`).
void noteUse(Reading& r, std::string_view feature, Place place);

// The point that the program has reached: the tool's place, or beside it under cutter radius compensation.
WorkPoint programmedPoint(const Reading& r);
// Says where a line's words are increments from a place that nobody knows.
void noteIncrements(Reading& r, Place place);
// Says, at the program's end, what of feeding at an unknown place depends on the whole program.
void reportFeedFromUnknown(Reading& r);
// End point of a line's X, Y, Z words; marks these axes as known when they are absolute.
WorkPoint targetOf(Reading& r);

// ---- The steps of a line, each in the file of its name.

// Says what of r.block cannot be read, or is not the standard's.
void reportSyntax(Reading& r);
// Fills r.line_words from r.block: values worked out, codes sorted into groups, conflicts turned into problems.
void gatherWords(Reading& r);
// The value of an expression of r.block; false when it cannot be worked out, which is said.
bool workOut(Reading& r, Range range, Place place, double& value);

// Runs the gathered line in the standard's order (NISTIR 6556 Table 8).
void runLine(Reading& r);
void runSettings(Reading& r);  // steps 2 to 18
void setSpindle(Reading& r, Spindle wanted, Place place);

void runArc(Reading& r, bool clockwise, Place place);
void runCycle(Reading& r, int code, Place place);
void runProbe(Reading& r, Place place);
void runReferenceReturn(Reading& r, int code, Place place);     // G28, G30
void runMachineMove(Reading& r, MotionKind kind, Place place);  // G53
void runDataSetting(Reading& r, Place place);                   // G10
void runAxisOffset(Reading& r, int code, Place place);          // G92 family
void selectSystem(Reading& r, int system, Place place);
void setParameter(Reading& r, int index, double value, Place place);

}  // namespace provecut::interpreter
