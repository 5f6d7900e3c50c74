// The program itself, run on files in a folder that is gone afterwards.
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
};

// Runs provecut in the folder; `environment` holds NAME=VALUE to add.
Ran runProvecut(const TempFolder& folder, const std::vector<std::string>& arguments,
                const std::vector<std::string>& environment = {});

// Stock of 100 x 80 x 10 mm, a 6 mm flat cutter as tool 1, one setup with zero at the top front-left corner and a screw
// "SW" of 10 mm at (10, 10), and the programs named.
std::string smallJob(const std::vector<std::string>& programs, std::string_view more = {});

}  // namespace provecut::testing
