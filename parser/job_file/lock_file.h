// Lock file (TOML, version 1) → Lock. Lengths are in mm. Every error names its place; what to do is the same for all:
// check the job and write the file anew.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "parser/job/lock.h"
#include "parser/job_file/job_file_problem.h"

namespace provecut {

struct LockReading {
  std::optional<Lock> lock;  // absent when there is any problem
  std::vector<JobFileProblem> problems;
};

LockReading readLock(std::string_view toml);

// The lock file of a job file: "job.toml" → "job.lock", beside it.
std::string lockFileOf(const std::string& job_file);

}  // namespace provecut
