// Runs other programs the way a person would, and reads what they say.
#pragma once

#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>

#include "tests/paths.h"

namespace provecut::samples {

inline const std::filesystem::path folder = std::filesystem::path(PROVECUT_SOURCE_DIR) / "samples";

struct Answer {
  int status = -1;     // exit status; -1 where the program could not be run
  std::string output;  // standard output
};

Answer runCommand(const std::string& command);

struct Check {
  int status = -1;
  nlohmann::json report;  // null where the output is not JSON
};

// `provecut check` on samples/SAMPLE/job.toml with --format json and more options.
Check check(const std::string& sample, const std::string& options = "");

std::string readFile(const std::filesystem::path& file);

}  // namespace provecut::samples
