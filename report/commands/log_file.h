// The file that the log of stages is written to.
#pragma once

#include <fstream>
#include <string>
#include <string_view>

namespace provecut {

inline constexpr std::string_view log_prefix = "provecut: ";  // of each line of a log

// Opens `name` for a log and empties it. Only an older log, an empty file or a device is written over: a slip of the
// name must not cost a program or a job file. `output` is the result's file (empty: none); the log must be another one,
// also where a link leads to it. Why the log cannot be written, safe to show; empty: it can.
std::string openLogFile(const std::string& name, const std::string& output, std::ofstream& log);

}  // namespace provecut
