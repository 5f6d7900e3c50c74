// A first job file, written from what the programs show.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "parser/program/motion.h"

namespace provecut::draft {

struct DraftProgram {
  std::string file;  // as the job file is to name it
  const Program* program = nullptr;
};

// TOML text that readJob() takes: the stock, work zero and tools as far as extents, tool words and comments
// tell, each guess marked FILL IN. In inches where all programs are. Hold-downs are there as examples only. `job_file`:
// where the text is written to, for the words that say how to check it.
std::string draftJob(std::string_view name, std::span<const DraftProgram> programs, std::string_view job_file = "FILE");

// Text in quotes as TOML writes it; what TOML or a reader could not take is escaped or made visible.
std::string tomlText(std::string_view text);

}  // namespace provecut::draft
