// Program text → motions. Follows modal state, offsets, cycles, arcs, compensation, parameters and subprograms.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string_view>

#include "parser/program/motion.h"

namespace provecut {

struct InterpreterOptions {
  int tool_in_spindle = 0;                        // at the start; 0: none known
  bool strict = false;                            // read by the letter of the standard
  bool block_delete = false;                      // lines that start with "/" are left out
  bool other_unit = false;                        // as if each G20 were G21 and each G21 G20; inches where neither is
  bool arc_centres_absolute = false;              // G90.1 in force at the start
  std::optional<MachinePoint> zero_in_machine{};  // the work zero
  double top_of_travel_mm = 100;             // Z above work zero used for machine moves when zero_in_machine is unknown
  std::map<int, double> tool_diameter_mm{};  // for G41/G42 D words
  std::map<int, Vec3> work_offset_mm{};      // G54 = 1 … G59.3 = 9, relative to the job's work zero
  std::uint32_t resume_line = 0;             // a line that Program::resumes also has, where it is run; 0: none
  double probe_touch_mm = 0;               // height in work coordinates where a probe that comes straight down touches
  std::uint64_t max_motions = 20'000'000;  // bounds loops and repeats, as does:
  std::uint64_t max_repeated_lines = 2'000'000;  // lines run again in loops and subprograms
};

// Reads the whole text. Never throws on bad input: what is wrong is in Program::problems with its place,
// and what was assumed to go on is said there.
Program interpret(std::string_view text, const InterpreterOptions& options = {});

}  // namespace provecut
