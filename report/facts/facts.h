// All that a rule may look at.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "parser/job/job.h"
#include "parser/job/lock.h"
#include "parser/program/motion.h"
#include "sim/observed/observation.h"

namespace provecut {

// Byte offset of each line's first byte; lines end with LF, CR LF or a lone CR. A byte order mark is no part
// of the first one. An empty text has no line.
std::vector<std::size_t> lineStarts(std::string_view text);

// Line `number` of a text, counted by LF, without its line end; for texts too short to keep their line starts.
std::string_view lineOfText(std::string_view text, std::uint32_t number);

struct ProgramFacts {
  const Setup* setup = nullptr;
  const ProgramEntry* entry = nullptr;
  std::string text;                      // the file's bytes
  std::vector<std::size_t> line_starts;  // byte offset of each line
  Program program;
  std::string_view line(std::uint32_t number) const;  // without its line end; empty where there is none
};

struct Facts {
  Job job;
  std::string job_text;                     // the job file's bytes; empty when the job was made from the command line
  bool job_file_in_inches = false;          // what the job file is written in; job.inches is what is shown
  std::optional<double> said_thickness_mm;  // the job file's, where another one was measured
  std::vector<std::string> assumed;         // what the command line left open, in words; empty with a job file
  std::vector<ProgramFacts> programs;       // in the order of the job
  Run run;                                  // run.programs[i] belongs to programs[i]
  double run_s = 0;                         // processor time that cutting them took
  bool strict = false;
  bool advice_is_tried = false;  // one program as advice would have it: nothing is tried again on it
  std::optional<Lock> lock;      // what was locked of the job before; none: it has no lock file
  std::string lock_file;         // its name, where there is one
};

}  // namespace provecut
