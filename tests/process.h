// Programs run as a person would run them: as processes of their own, in a folder that is gone afterwards.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace provecut::testing {

class TempFolder {
 public:
  TempFolder();
  ~TempFolder();
  TempFolder(const TempFolder&) = delete;
  TempFolder& operator=(const TempFolder&) = delete;

  const std::filesystem::path& path() const { return path_; }
  void write(const std::string& name, std::string_view bytes) const;
  std::string read(const std::string& name) const;

 private:
  std::filesystem::path path_;
};

struct Ran {
  int status = -1;  // -1: did not end by itself
  std::string out, err;
  double processor_s = 0;  // of all its threads
  double megabytes = 0;    // the most that it held at a time
};

// Runs a program in the folder: its path or its name, then its arguments. `environment` holds NAME=VALUE to add.
// Throws where it cannot be started.
Ran runProcess(const std::filesystem::path& folder, const std::vector<std::string>& words,
               const std::vector<std::string>& environment = {});

// A line for /bin/sh.
Ran runShell(const std::filesystem::path& folder, const std::string& line);

}  // namespace provecut::testing
