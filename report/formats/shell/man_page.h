// The manual page (man(7) macros), from what the command line takes.
#pragma once

#include <iosfwd>

#include "report/command_line/options.h"

namespace provecut {

void writeManPage(const ProgramHelp& help, std::ostream& out);

}  // namespace provecut
