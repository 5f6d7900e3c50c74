// Lines at which a stopped program can be resumed, and what must be in force there.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "parser/program/motion.h"
#include "report/facts/facts.h"

namespace provecut {

struct ResumeLine {
  const ResumePoint* point = nullptr;
  WorkPoint at;       // where the tool must stand
  std::string words;  // the state as a block to set it: "G21 G90 G17 G94 G54 S18000 M3 F2000"
};

struct ProgramResumes {
  std::vector<ResumeLine> lines;       // in order
  std::vector<std::string> relies_on;  // modes that the program uses before it sets them itself
};

// Lines whose tool stands at the clearance height over everything that is on the machine, or higher; with `before` only
// the last of them at or before that line.
ProgramResumes resumesOf(const Facts& facts, std::size_t program, std::optional<std::uint32_t> before = std::nullopt);

}  // namespace provecut
