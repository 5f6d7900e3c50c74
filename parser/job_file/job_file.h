// Job file (TOML, version 1) → Job. Every error names its place; unknown keys name the nearest known one.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "parser/job/job.h"
#include "parser/job_file/job_file_problem.h"

namespace provecut {

struct JobReading {
  std::optional<Job> job;  // absent when there is any problem
  std::vector<JobFileProblem> problems;
};

// True if a file goes by a job file's name: it ends in ".toml", in either case.
bool isJobFileName(std::string_view file);

// `file` is only a name for messages.
JobReading readJob(std::string_view toml, const std::string& file);

}  // namespace provecut
