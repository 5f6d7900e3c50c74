// State of reading one program, shared by the interpreter's parts. Not for use outside parser/.
#pragma once

#include <array>
#include <map>
#include <set>
#include <string>
#include <string_view>

#include "parser/block.h"
#include "parser/interpreter.h"
#include "parser/parameter.h"
#include "parser/words.h"

namespace provecut {

constexpr double mm_per_inch = 25.4;

// What the words of one line say once their values are known.
struct LineWords {
  struct Code {
    int code = -1;  // G: ten times; -1: none
    const Word* word = nullptr;
  };
  std::uint32_t present = 0;                 // bit 0: A
  std::uint32_t used = 0;                    // words that some code has taken
  bool refused = false;                      // strict reading does not run the line
  std::array<double, 26> values{};           // valid where present
  std::array<const Word*, 26> words{};
  std::uint32_t g_present = 0, m_present = 0;  // bit per group
  std::array<Code, g_group_count> g;
  std::array<Code, m_group_count> m;

  static constexpr std::uint32_t bit(char letter) { return 1u << (letter - 'A'); }
  bool has(char letter) const { return (present & bit(letter)) != 0; }
  bool hasAny(std::uint32_t letters) const { return (present & letters) != 0; }
  double value(char letter) const { return values[static_cast<std::size_t>(letter - 'A')]; }
  const Word& word(char letter) const { return *words[static_cast<std::size_t>(letter - 'A')]; }
  bool has(GGroup group) const { return (g_present >> static_cast<unsigned>(group) & 1u) != 0; }
  bool has(MGroup group) const { return (m_present >> static_cast<unsigned>(group) & 1u) != 0; }
  const Code& code(GGroup group) const { return g[static_cast<std::size_t>(group)]; }
  const Code& code(MGroup group) const { return m[static_cast<std::size_t>(group)]; }
};

constexpr std::uint32_t axis_letters = LineWords::bit('X') | LineWords::bit('Y') | LineWords::bit('Z');
constexpr std::uint32_t rotary_letters = LineWords::bit('A') | LineWords::bit('B') | LineWords::bit('C');

struct ModalState {
  int motion = 800;                      // ten times the G code in force; the start is G80
  Plane plane = Plane::xy;
  bool incremental = false;              // G91
  bool arc_centre_absolute = false;      // G90.1
  bool inverse_time = false;             // G93
  bool inch = false;
  bool retract_to_r = false;             // G99
  int system = 1;                        // G54 = 1 … G59.3 = 9
  int compensation = 0;                  // -1: G41, left; 1: G42, right
  double feed = -1;                      // as programmed; -1: never set
  double rpm = 0;
  Spindle spindle = Spindle::off;
  int tool = 0, selected_tool = -1;
  double unit() const { return inch ? mm_per_inch : 1; }
};

// What a canned cycle keeps from line to line, in program numbers.
struct CycleState {
  int code = 0;
  std::array<double, 26> sticky{};
  std::uint32_t present = 0;
};

struct Reading {
  Reading(std::string_view text, const InterpreterOptions& o) : options(o), whole_text(text) {}

  const InterpreterOptions& options;
  std::string_view whole_text;
  Program program;
  ModalState state;
  CycleState cycle;
  ParameterTable parameters;

  // The tool's place: work frame, mm. A component is known once an absolute move named it.
  Vec3 position;
  std::array<bool, 3> known{false, false, false};
  Vec3 rotary_deg;

  // absolute = program + origin + g92, mm.
  Vec3 origin, g92, g92_stored;
  std::map<int, Vec3> systems;             // origins relative to the job's zero, where known
  std::array<std::optional<double>, 3> first_g54{};  // set by G10, machine coordinates: stands for the job's zero

  Block block;
  LineWords line_words;
  std::string_view line;
  std::uint32_t line_number = 0;
  bool uses_tool_change = false;           // M6 stands somewhere in the program
  bool in_subprogram = false;
  bool in_cycle = false;
  bool percent_open = false, percent_closed = false;
  Place percent_place;
  bool any_words = false;                  // a word has been read
  std::size_t comment_count = 0;           // comments kept as events
  bool ended = false;                      // M2, M30 or the closing %
  bool start_known = false;                // all of `known`, before the move being made
  bool over_limit = false;                 // more motions than allowed

  std::map<std::string_view, std::uint32_t> problem_counts;
  std::map<std::string_view, std::size_t> first_uncounted;  // id → index of the problem that stands for all further ones
  std::set<std::string_view> said_once;
  Problem spare_problem;                   // given out where nothing is kept
  Motion spare_motion;
};

Place placeOf(const Reading& r, const Word& w);

// Adds a problem; after the first hundred of one id they are only counted.
Problem& addProblem(Reading& r, std::string_view id, Place place, std::string message, std::string assumed = {}, std::string help = {});
// Only the first time in this program; null afterwards.
Problem* addProblemOnce(Reading& r, std::string_view id, Place place, std::string message, std::string assumed = {},
                        std::string help = {});
// The program cannot be followed whole from here on.
void addNotFollowed(Reading& r, std::string_view id, Place place, std::string message, std::string assumed = {});
// Sorts the problems by place and writes the counts of those not kept.
void finishProblems(Reading& r);
// The word's own text, for messages.
std::string shownWord(const Reading& r, const Word& w);

// Fills r.line_words from r.block: values worked out, codes sorted into groups, faults and conflicts turned into problems.
// False: the line is not to be run (strict reading refuses it).
bool gatherWords(Reading& r);

// Runs the gathered line in the standard's order (NISTIR 6556 Table 8).
void runLine(Reading& r);

// One motion from r.position to `end` (mm), which becomes the position.
Motion& addMotion(Reading& r, MotionKind kind, Vec3 end, Place place);
void addDwell(Reading& r, double seconds, Place place);
void addEvent(Reading& r, EventKind kind, double value, Place place, std::string text = {});

// End point of a line's X, Y, Z words (mm, work frame); marks these axes as known when they are absolute.
Vec3 targetOf(Reading& r);

void runArc(Reading& r, bool clockwise, Place place);
void runCycle(Reading& r, int code, Place place);
void runReferenceReturn(Reading& r, int code, Place place);  // G28, G30
void runMachineMove(Reading& r, MotionKind kind, Place place);  // G53
void runDataSetting(Reading& r, Place place);  // G10
void runAxisOffset(Reading& r, int code, Place place);  // G92 family
void setParameter(Reading& r, int index, double value, Place place);
void selectSystem(Reading& r, int system, Place place);

}  // namespace provecut
