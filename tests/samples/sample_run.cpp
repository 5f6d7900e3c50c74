#include "tests/samples/sample_run.h"

#include <fstream>
#include <iterator>

namespace provecut::samples {

testing::Ran runCommand(const std::string& line) {
  return testing::runShell(std::filesystem::temp_directory_path(), line);
}

Check check(const std::string& sample, const std::string& options) {
  const std::string job = (folder / sample / "job.toml").string();
  const testing::Ran answer = runCommand("'" PROVECUT_PROGRAM "' check '" + job + "' --format json " + options);
  nlohmann::json report = nlohmann::json::parse(answer.out, nullptr, false);
  return {answer.status, report.is_discarded() ? nlohmann::json() : report};
}

std::string readFile(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

}  // namespace provecut::samples
