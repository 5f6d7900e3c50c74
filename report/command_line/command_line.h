// From the words on the command line to Options, and what the command line takes, as plain data.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "report/command_line/options.h"

namespace provecut {

// The command line is used up when `options` is absent: print `text` (to standard error unless `status` is 0) and
// leave.
struct CommandLine {
  std::optional<Options> options;
  int status = exit_done;
  std::string text;
};

CommandLine readCommandLine(int argc, const char* const* argv);

// What the command line takes: the help, the manual page and the completions come from the same place.
struct OptionHelp {
  std::vector<std::string> names;  // "-f", "--format"; of what stands without a name: "FILES"
  bool named = true;
  std::string value;  // "FILE", "text|json" for one of these; empty: a switch
  std::string text;
};
struct CommandHelp {
  std::string name;  // empty: the program itself
  std::string text;
  std::vector<OptionHelp> options;
};
struct ProgramHelp {
  std::string purpose, statuses;
  std::vector<std::string> examples;  // command lines
  std::vector<CommandHelp> commands;  // the program itself first
};
ProgramHelp describeCommandLine();

}  // namespace provecut
