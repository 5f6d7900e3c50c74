#include "tests/report/running.h"

#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "tests/paths.h"

extern char** environ;

namespace provecut::testing {

TempFolder::TempFolder() {
  std::string name = (std::filesystem::temp_directory_path() / "provecut-XXXXXX").string();
  if (!mkdtemp(name.data())) throw std::runtime_error("no temporary folder");
  path_ = name;
}

TempFolder::~TempFolder() {
  std::error_code ignored;
  std::filesystem::remove_all(path_, ignored);
}

void TempFolder::write(const std::string& name, std::string_view bytes) const {
  std::ofstream file(path_ / name, std::ios::binary);
  file << bytes;
  if (!file.flush()) throw std::runtime_error("cannot write " + name);
}

std::string TempFolder::read(const std::string& name) const {
  std::ifstream file(path_ / name, std::ios::binary);
  std::ostringstream bytes;
  bytes << file.rdbuf();
  return bytes.str();
}

Ran runProvecut(const TempFolder& folder, const std::vector<std::string>& arguments,
                const std::vector<std::string>& environment) {
  const TempFolder streams;
  const std::string out = (streams.path() / "out").string(), err = (streams.path() / "err").string();
  std::vector<std::string> words{PROVECUT_PROGRAM};
  words.insert(words.end(), arguments.begin(), arguments.end());
  std::vector<char*> argv;
  for (std::string& word : words) argv.push_back(word.data());
  argv.push_back(nullptr);

  std::vector<std::string> variables = environment;
  for (char** e = environ; *e; ++e) variables.emplace_back(*e);
  std::vector<char*> envp;
  for (std::string& variable : variables) envp.push_back(variable.data());
  envp.push_back(nullptr);

  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
  posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, out.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
  posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, err.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
  posix_spawn_file_actions_addchdir_np(&actions, folder.path().c_str());
  pid_t child = 0;
  const int failed = posix_spawn(&child, PROVECUT_PROGRAM, &actions, nullptr, argv.data(), envp.data());
  posix_spawn_file_actions_destroy(&actions);
  if (failed) throw std::runtime_error("cannot start provecut");
  int status = 0;
  waitpid(child, &status, 0);
  return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, streams.read("out"), streams.read("err")};
}

std::string smallJob(const std::vector<std::string>& programs, std::string_view more) {
  std::string toml = R"(version = 1
name = "small job"

[stock]
size = [100, 80, 10]

[[tool]]
number = 1
name = "6 mm flat"
shape = "flat"
diameter = 6
flute_length = 22
shank_diameter = 6
stickout = 35

[[hold_down]]
name = "SW"
kind = "screw"
at = [10, 10]
diameter = 10
top = 4

)";
  toml += more;
  toml += R"(
[[setup]]
name = "front"
zero = ["left", "front", "top"]
hold_downs = ["SW"]
)";
  for (const std::string& program : programs) toml += "[[setup.program]]\nfile = \"" + program + "\"\ntool = 1\n";
  return toml;
}

}  // namespace provecut::testing
