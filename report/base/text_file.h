// A file of the user's, read whole; one that is no exported text is refused in plain words.
#pragma once

#include <cstddef>
#include <string>

namespace provecut {

struct TextFile {
  std::string bytes;
  std::string error;  // why it cannot be used, without the file's name; empty: it can
  std::string help;   // what to do about it; may be empty
};

inline constexpr std::size_t max_file_bytes = 256u << 20;
inline constexpr std::size_t max_file_lines = 20'000'000;

// Errors: missing, not allowed, a folder, a pipe or a device, larger than max_file_bytes, more than max_file_lines
// lines, binary, empty.
TextFile readTextFile(const std::string& path);

}  // namespace provecut
