// The manual page (man(7) macros), from what the command line takes.
#pragma once

#include <iosfwd>

#include "report/command_line/command_line.h"

namespace provecut {

// A stream that fails is left failed: the caller looks at it afterwards.
void writeManPage(const ProgramHelp& help, std::ostream& out);

}  // namespace provecut
