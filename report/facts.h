// All that a rule may look at.
#pragma once

#include <string>
#include <vector>

#include "parser/job.h"
#include "parser/motion.h"
#include "sim/observation.h"

namespace provecut {

struct ProgramFacts {
  const Setup* setup = nullptr;
  const ProgramEntry* entry = nullptr;
  std::string text;                        // the file's bytes
  std::vector<std::size_t> line_starts;    // byte offset of each line
  Program program;
  std::string_view line(std::uint32_t number) const;  // without its line end; empty where there is none
};

struct Facts {
  Job job;
  std::vector<ProgramFacts> programs;  // in the order of the job
  Run run;                             // run.programs[i] belongs to programs[i]
  bool strict = false;
};

}  // namespace provecut
