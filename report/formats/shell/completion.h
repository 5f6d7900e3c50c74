// Completions for shells, from what the command line takes.
#pragma once

#include <iosfwd>

#include "report/command_line/options.h"

namespace provecut {

void writeBashCompletion(const ProgramHelp& help, std::ostream& out);
void writeZshCompletion(const ProgramHelp& help, std::ostream& out);
void writeFishCompletion(const ProgramHelp& help, std::ostream& out);

}  // namespace provecut
