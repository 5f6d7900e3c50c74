#include "tests/process.h"

#include <fcntl.h>
#include <spawn.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <sstream>
#include <stdexcept>

extern char** environ;

namespace provecut::testing {

namespace {

// What posix_spawn wants: pointers into the words, a null at the end.
std::vector<char*> pointersTo(std::vector<std::string>& words) {
  std::vector<char*> pointers;
  for (std::string& word : words) pointers.push_back(word.data());
  pointers.push_back(nullptr);
  return pointers;
}

double seconds(const timeval& t) {
  return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
}

}  // namespace

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

Ran runProcess(const std::filesystem::path& folder, const std::vector<std::string>& words,
               const std::vector<std::string>& environment) {
  const TempFolder streams;
  const std::string out = (streams.path() / "out").string(), err = (streams.path() / "err").string();
  std::vector<std::string> own_words = words, variables = environment;
  for (char** e = environ; *e; ++e) variables.emplace_back(*e);
  const std::vector<char*> arguments = pointersTo(own_words), surroundings = pointersTo(variables);

  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
  posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, out.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
  posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, err.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
  posix_spawn_file_actions_addchdir_np(&actions, folder.c_str());
  pid_t child = 0;
  const int failed =
      posix_spawnp(&child, words.at(0).c_str(), &actions, nullptr, arguments.data(), surroundings.data());
  posix_spawn_file_actions_destroy(&actions);
  if (failed) throw std::runtime_error("cannot start " + words[0]);
  int status = 0;
  rusage used{};
  wait4(child, &status, 0, &used);
  return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, streams.read("out"), streams.read("err"),
          seconds(used.ru_utime) + seconds(used.ru_stime), static_cast<double>(used.ru_maxrss) / 1024};
}

Ran runShell(const std::filesystem::path& folder, const std::string& line) {
  return runProcess(folder, {"/bin/sh", "-c", line});
}

}  // namespace provecut::testing
