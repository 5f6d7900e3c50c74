// The command line with all its commands, described once.
#pragma once

#include <CLI/App.hpp>
#include <string_view>
#include <utility>
#include <vector>

#include "report/command_line/options.h"

namespace provecut {

inline constexpr std::string_view purpose =
    "Checks the programs of a router job before anyone presses Start. Finds moves that hit a hold-down,\n"
    "cuts that go too deep and parts that come loose.";

// Of all commands together, of check, and of each other command.
inline constexpr std::string_view statuses =
    "Exit status: 0: done, and check has no finding at or above --fail-on. 1: check has one, or a program could not "
    "be\n"
    "read completely. 2: input or command line not usable. 3: a defect in provecut.";
inline constexpr std::string_view check_statuses =
    "Exit status: 0: no finding at or above --fail-on. 1: a finding, or a program that could not be read completely.\n"
    "2: input or command line not usable. 3: a defect in provecut.";
inline constexpr std::string_view other_statuses =
    "Exit status: 0: done. 1: a program could not be read completely. 2: input or command line not usable.\n"
    "3: a defect in provecut.";

std::vector<std::string> exampleLines();  // command lines

// What is parsed goes to `options`. Which of the exports were asked for: one at most.
struct Syntax {
  Options options;
  std::vector<Export> exports;
  CLI::App app;
  std::vector<std::pair<CLI::App*, Command>> commands;

  Syntax();
  Syntax(const Syntax&) = delete;
  Syntax& operator=(const Syntax&) = delete;
};

}  // namespace provecut
