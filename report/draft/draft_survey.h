// What programs tell of the job they belong to: extents, tools, a likely stock, setups and work zeros. mm throughout.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "parser/base/geometry.h"
#include "parser/job/job.h"
#include "report/base/tool_comment.h"
#include "report/draft/draft_job.h"

namespace provecut::draft {

struct ToolUse {
  double feed_low_mm_min = 0, feed_high_mm_min = 0;  // 0: none in force
  double plunge_mm_min = 0;                          // highest feed straight down
  double rpm_low = 0, rpm_high = 0;
  double deepest_mm = 0;  // lowest Z of a feed move
  bool sideways = false;  // it cuts not only straight down
};

struct ToolGuess {
  std::string comment;   // the program's words
  bool numbered = true;  // a T word or a comment gives the number
  ToolShape shape = ToolShape::flat;
  bool shape_known = false;
  double diameter_mm = 0;
  bool diameter_known = false;
  double corner_radius_mm = 0;
  double angle_deg = 0;  // drill, vee; 0: not known
  double tip_diameter_mm = 0, taper_deg = 0;
  int flutes = 0;  // 0: not known, and below
  double flute_length_mm = 0, overall_length_mm = 0, shank_diameter_mm = 0;
  double long_enough_mm = 0;  // flutes that the programs' depth asks for
  ToolUse use;
};

// A stop after which the stock may lie anew, as comments say.
struct StockMoved {
  std::uint32_t line = 0;  // of the stop
  std::string said;
};

struct ProgramSurvey {
  std::uint32_t lines = 0;
  bool states_unit = false;
  std::optional<bool> inches;  // absent where it uses both or says neither
  WorkBox cut;                 // of the tip, on feed moves
  WorkBox core;                // the same without the moves that lead into a cut and out of it, and without facing
  double core_radius_mm = 0;   // of the widest tool in it
  std::vector<WorkPoint2> holes;
  int first_tool = 0;  // number in the draft; 0: none
  bool names_tool = false;
  int later_tools = 0;
  bool cuts_above_zero = false;  // level cuts above work zero: that is probably the stock's underside
  double highest_level_mm = 0;   // of its level cuts
  bool cuts = false;
  bool starts_spindle = false, says_speed = false;
  std::vector<std::string> offsets;     // work offsets whose place it does not say: "G55"
  std::vector<StockMoved> stock_moved;  // it should be split there
  bool starts_anywhere = false;         // its moves count from wherever the tool stands
  bool looks_like_inches = false;       // and it states no unit
};

// One axis of work zero: a word, or the distance from the stock's low corner.
struct ZeroGuess {
  std::string word;
  double from_corner_mm = 0;
};

struct SetupGuess {
  std::string name;
  Flip flip = Flip::none;
  std::string why;  // programs were put into a setup of their own
  std::vector<std::size_t> programs;
  ZeroGuess zero_x, zero_y;
  std::vector<std::string> zero_comments;  // what the programs say about it
  bool zero_on_bottom = false;
  WorkBox cut, core;
};

// What the thickness was guessed from.
enum class ThicknessFrom { example, deepest_cut, highest_level, least, no_through_bit };

struct StockGuess {
  Vec3 size_mm;
  ThicknessFrom thickness_from = ThicknessFrom::example;
  std::optional<Material> material;  // as a comment says
  std::string told;                  // the comment that gives the size
};

struct Survey {
  bool inches = false;
  WorkBox cut;
  std::map<int, ToolGuess> tools;
  std::vector<ProgramSurvey> programs;
  std::vector<SetupGuess> setups;
  StockGuess stock;
  double rpm_low = 0, rpm_high = 0;  // of all S words in force; 0: none
};

Survey surveyPrograms(std::span<const DraftProgram> programs);

// --- its parts

bool inInches(const Program& program);
// A feed move whose place is known.
bool cutsAtKnownPlace(const Motion& motion);

// A tool as one comment describes it, for the number that it has or that is in the spindle right after it.
struct Described {
  int number = 0;
  ToolComment comment;
  std::string text;
};

std::vector<Described> describedTools(const Program& program);
// Does a tool comment only make sense in inches, in a program that states no unit?
bool onlyInInches(const Program& program);
// Takes what is not known yet from the comments for this number; those that give the number themselves come first.
void describe(ToolGuess& tool, const std::vector<Described>& all, int number);
void fillGuess(ToolGuess& tool, bool inches);
// Flutes for a cut of this depth, as a usual length of the file's unit.
double longEnough_mm(double depth_mm, bool inches);
// How far from its axis it cuts at the depth that the programs take it to; little where its size is not known.
double cutRadius_mm(const ToolGuess& tool);

// Stops that comments follow which name another zero, another operation or the other side.
std::vector<StockMoved> movedStock(const Program& program);

// The programs of each side of the stock.
std::vector<SetupGuess> guessSetups(std::span<const DraftProgram> programs, const std::vector<ProgramSurvey>& surveys);

// Size of the stock and the setups' zeros; `setups` have their programs.
StockGuess guessStock(std::span<const DraftProgram> programs, const Survey& survey, std::vector<SetupGuess>& setups);

}  // namespace provecut::draft
