// Runs other programs the way a person would, and reads what they say.
#pragma once

#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>

#include "tests/paths.h"
#include "tests/process.h"

namespace provecut::samples {

inline const std::filesystem::path folder = std::filesystem::path(PROVECUT_SOURCE_DIR) / "samples";

testing::Ran runCommand(const std::string& line);

struct Check {
  int status = -1;
  nlohmann::json report;  // null where the output is not JSON
};

// `provecut check` on samples/SAMPLE/job.toml with --format json and more options.
Check check(const std::string& sample, const std::string& options = "");

std::string readFile(const std::filesystem::path& file);

}  // namespace provecut::samples
