// What programs tell of the job they belong to: extents, tools, a likely stock and work zero. mm throughout.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "parser/base/geometry.h"
#include "parser/job/job.h"
#include "report/draft/draft_job.h"

namespace provecut::draft {

struct ToolUse {
  double feed_low_mm_min = 0, feed_high_mm_min = 0;  // 0: none in force
  double plunge_mm_min = 0;                          // highest feed straight down
  double rpm_low = 0, rpm_high = 0;
  double deepest_mm = 0;  // lowest Z of a feed move
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
  double flute_length_mm = 0;
  ToolUse use;
};

struct ProgramSurvey {
  std::uint32_t lines = 0;
  std::optional<bool> inches;  // absent where it uses both or says neither
  WorkBox cut;                 // of the tip, on feed moves
  int first_tool = 0;          // number in the draft; 0: none
  bool names_tool = false;
  int later_tools = 0;
  bool cuts_above_zero = false;  // level cuts above work zero: that is probably the stock's underside
};

// One axis of work zero: a word, or the distance from the stock's low corner.
struct ZeroGuess {
  std::string word;
  double from_corner_mm = 0;
};

struct StockGuess {
  Vec3 size_mm;
  ZeroGuess zero_x, zero_y, zero_z;
};

struct Survey {
  bool inches = false;
  bool zero_on_bottom = false;
  WorkBox cut;
  std::map<int, ToolGuess> tools;
  std::vector<ProgramSurvey> programs;
  StockGuess stock;
};

Survey surveyPrograms(std::span<const DraftProgram> programs);

}  // namespace provecut::draft
