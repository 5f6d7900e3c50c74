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
  WorkPoint shown;    // where the tool must stand as the machine shows it once the words are in force, mm
  std::string words;  // the state as words to set it: "G21 G90 G17 G94 G54 S18000 M3 F2000"; empty: nothing to set
};

struct ProgramResumes {
  std::vector<ResumeLine> lines;       // in order
  std::vector<std::string> relies_on;  // modes that the program uses before it sets them itself
  std::string why_not;  // with `before`: why that line itself is none of them; empty: it is, or is not run
};

// "G54" … "G59.3"
std::string systemWord(int system);

// The words that set what the rest of the program needs from this line on; none that the program has not, in an order
// in which each has its unit before it.
std::string wordsToSet(const ResumePoint& point);

// Lines whose tool stands at the clearance height over everything that is on the machine, or higher; with `before` only
// the last of them at or before that line. That line has to be the one that the programs were read for
// (LoadOptions::resume_line).
ProgramResumes resumesOf(const Facts& facts, std::size_t program, std::optional<std::uint32_t> before = std::nullopt);

}  // namespace provecut
