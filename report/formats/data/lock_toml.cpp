#include "report/formats/data/lock_toml.h"

#include <fmt/format.h>

#include <ostream>
#include <span>
#include <string>

#include "report/base/number_text.h"
#include "report/base/visible_text.h"

namespace provecut {

namespace {

std::string quotedToml(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + '"';
}

// A number of TOML: "-19.05", never "-0".
std::string pointText(WorkPoint p) {
  return fmt::format("[{}, {}, {}]", shortNumber(p.x, 4), shortNumber(p.y, 4), shortNumber(p.z, 4));
}

template <class T, class Text>
std::string listOf(std::span<const T> items, Text text) {
  std::string out;
  for (const T& item : items) out += (out.empty() ? "" : ", ") + text(item);
  return "[" + out + "]";
}

}  // namespace

void writeLock(const Lock& lock, std::string_view job_file, std::ostream& out) {
  out << "# The programs of " << visibleText(job_file) << " as they were checked. Lengths are in mm.\n"
      << "# Written by provecut lock. After a new export: provecut check, then provecut lock --update.\n"
      << "lock = 1\ndate = " << quotedToml(lock.date) << "\nverdict = " << quotedToml(lock.verdict) << "\n";
  for (const LockedProgram& p : lock.programs) {
    out << "\n[[program]]\nfile = " << quotedToml(p.file) << "\nsha256 = \"" << p.sha256 << "\"\nbytes = " << p.bytes
        << "\ncomments = " << listOf(std::span(p.comments), [](const std::string& c) { return quotedToml(c); })
        << "\nmoves_sha256 = \"" << p.moves_sha256 << "\"\nmoves = " << p.moves
        << "\ntools = " << listOf(std::span(p.tools), [](int t) { return std::to_string(t); }) << "\n";
    if (!p.cuts.empty)
      out << "cuts_from = " << pointText(p.cuts.low) << "\ncuts_to = " << pointText(p.cuts.high) << "\n";
  }
}

}  // namespace provecut
