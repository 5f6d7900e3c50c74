// Job file (TOML, version 1) → Job. Every error names its place; unknown keys name the nearest known one.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/problem.h"

namespace provecut {

struct JobReading {
  std::optional<Job> job;         // absent when there is any problem
  std::vector<Problem> problems;  // id "job-file"
};

// `file` is only a name for messages.
JobReading readJob(std::string_view toml, const std::string& file);

}  // namespace provecut
