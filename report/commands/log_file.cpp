#include "report/commands/log_file.h"

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <string_view>
#include <system_error>

#include "report/base/visible_text.h"

namespace provecut {

namespace {

namespace fs = std::filesystem;

// The file that a name leads to, which need not be there yet.
fs::path fileBehind(fs::path path) {
  constexpr int max_links = 40;  // as many as Linux follows
  std::error_code error;
  for (int i = 0; i < max_links && fs::is_symlink(path, error); ++i) {
    const fs::path target = fs::read_symlink(path, error);
    path = path.parent_path() / target;
  }
  const fs::path canonical = fs::weakly_canonical(fs::absolute(path, error), error);
  return error ? path : canonical;
}

bool isSameFile(const std::string& a, const std::string& b) {
  std::error_code error;
  return fs::equivalent(a, b, error) || fileBehind(a) == fileBehind(b);
}

// Whether the file holds what no log does.
bool holdsSomethingElse(const std::string& name) {
  std::error_code error;
  if (!fs::is_regular_file(name, error)) return false;
  std::ifstream file(name, std::ios::binary);
  std::string begin(log_prefix.size(), '\0');
  file.read(begin.data(), static_cast<std::streamsize>(begin.size()));
  return file.gcount() > 0 && begin != log_prefix;
}

}  // namespace

std::string openLogFile(const std::string& name, const std::string& output, std::ofstream& log) {
  const std::string cannot = "cannot write " + visibleText(name) + ": ";
  if (!output.empty() && isSameFile(name, output))
    return cannot + "--output is the same file. Give --log-file another name.";
  if (holdsSomethingElse(name)) return cannot + "the file is not a log of provecut. Give --log-file another name.";
  errno = 0;
  log.open(name, std::ios::binary | std::ios::trunc);
  return log ? std::string() : cannot + std::strerror(errno);
}

}  // namespace provecut
