#include "report/base/text_file.h"

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>
#include <system_error>
#include <utility>

namespace provecut {

namespace {

constexpr std::size_t chunk = 1u << 20;

struct Closer {
  void operator()(std::FILE* f) const { std::fclose(f); }
};

std::string reasonOf(int error) {
  switch (error) {
    case ENOENT:
      return "no such file";
    case ENOTDIR:
      return "no such file: part of its path is not a folder";
    case EACCES:
      return "no permission to read it";
    case EISDIR:
      return "this is a folder";
    case ENAMETOOLONG:
      return "its name is too long";
    default:
      return std::system_category().message(error);
  }
}

// Reads at most one byte over the limit, so that a file that grows meanwhile ends too.
std::string readBytes(std::FILE* file, std::size_t expected, int& error) {
  std::string bytes;
  bytes.reserve(expected);
  std::size_t n = 1;
  while (n > 0 && bytes.size() <= max_file_bytes) {
    const std::size_t before = bytes.size();
    if (bytes.capacity() < before + chunk) bytes.reserve(std::max(2 * before, chunk));
    bytes.resize(before + std::min(chunk, max_file_bytes + 1 - before));
    n = std::fread(bytes.data() + before, 1, bytes.size() - before, file);
    bytes.resize(before + n);
    if (std::ferror(file)) {
      error = errno;
      return {};
    }
  }
  return bytes;
}

// Exported programs hold a stray control byte at most; text in two-byte units and data hold many.
bool isBinary(const std::string& bytes) {
  const std::size_t n = std::min<std::size_t>(bytes.size(), 1u << 16);
  const auto strange = [](char c) {
    const unsigned char b = static_cast<unsigned char>(c);
    return (b < 0x20 && !(b >= '\t' && b <= '\r') && b != 0x1A) || b == 0x7F;
  };
  const auto count = std::count_if(bytes.begin(), bytes.begin() + static_cast<std::ptrdiff_t>(n), strange);
  return count >= 4 && static_cast<std::size_t>(count) * 20 > n;
}

bool isTwoByteText(const std::string& bytes) {
  return bytes.size() >= 2 && (bytes.compare(0, 2, "\xFF\xFE") == 0 || bytes.compare(0, 2, "\xFE\xFF") == 0);
}

}  // namespace

TextFile readTextFile(const std::string& path) {
  const auto failed = [](std::string why, std::string help = {}) {
    return TextFile{{}, std::move(why), std::move(help)};
  };
  std::error_code code;
  const auto status = std::filesystem::status(path, code);
  if (std::filesystem::is_directory(status)) return failed("this is a folder", "Name the file in it.");
  // A pipe that nobody writes to is waited for without end.
  if (std::filesystem::exists(status) && !std::filesystem::is_regular_file(status))
    return failed("this is a pipe or a device, not a file", "Save it as a file first.");
  const std::unique_ptr<std::FILE, Closer> file(std::fopen(path.c_str(), "rb"));
  if (!file) {
    const int reason = errno;
    const bool missing = reason == ENOENT || reason == ENOTDIR;
    const bool backslash = path.find('\\') != std::string::npos;
    return failed(reasonOf(reason), !missing    ? ""
                                    : backslash ? "Check the name and the folder; write / in place of \\."
                                                : "Check the name and the folder.");
  }

  TextFile text;
  int error = 0;
  const auto size = std::filesystem::file_size(path, code);
  // The last read must find room for a whole chunk, though it meets the end.
  const std::size_t expected = code || size > max_file_bytes ? 0 : static_cast<std::size_t>(size) + chunk;
  text.bytes = readBytes(file.get(), expected, error);
  if (error != 0) return failed(reasonOf(error));
  if (text.bytes.size() > max_file_bytes) {
    return failed("it is larger than " + std::to_string(max_file_bytes >> 20) + " MB",
                  "Split it into several programs.");
  }
  if (text.bytes.empty()) return failed("the file is empty");
  if (isTwoByteText(text.bytes)) return failed("its text is UTF-16", "Save it as UTF-8 text.");
  if (isBinary(text.bytes)) return failed("it is binary, not text", "Export the program as text (RS-274).");
  const auto lines = std::count(text.bytes.begin(), text.bytes.end(), '\n');
  if (static_cast<std::size_t>(lines) > max_file_lines) {
    return failed("it has more than " + std::to_string(max_file_lines / 1'000'000) + " million lines",
                  "Split it into several programs.");
  }
  return text;
}

}  // namespace provecut
