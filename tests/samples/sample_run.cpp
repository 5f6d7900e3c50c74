#include "tests/samples/sample_run.h"

#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <fstream>
#include <iterator>

namespace provecut::samples {

Answer runCommand(const std::string& command) {
  Answer answer;
  FILE* pipe = popen(command.c_str(), "r");
  if (!pipe) return answer;
  std::array<char, 4096> buffer{};
  while (const std::size_t n = std::fread(buffer.data(), 1, buffer.size(), pipe))
    answer.output.append(buffer.data(), n);
  const int status = pclose(pipe);
  if (WIFEXITED(status)) answer.status = WEXITSTATUS(status);
  return answer;
}

Check check(const std::string& sample, const std::string& options) {
  const std::string job = (folder / sample / "job.toml").string();
  const Answer answer = runCommand("'" PROVECUT_PROGRAM "' check '" + job + "' --format json " + options);
  nlohmann::json report = nlohmann::json::parse(answer.output, nullptr, false);
  return {answer.status, report.is_discarded() ? nlohmann::json() : report};
}

std::string readFile(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

}  // namespace provecut::samples
