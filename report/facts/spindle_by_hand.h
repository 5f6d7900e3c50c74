// A spindle that is switched or dialled by hand: what it then does, whatever the program's words say.
#pragma once

#include "parser/job/job.h"
#include "parser/program/motion.h"

namespace provecut {

// Gives every move the speed that is dialled for it: the entry's `rpm`, else the tool's, else the program's own S
// (0 where none says). Where the spindle is switched by hand it turns for the whole program, and M3, M4 and M5 do
// nothing. No effect on a machine whose spindle the program drives.
void setSpindleByHand(const Job& job, const ProgramEntry& entry, Program& program);

}  // namespace provecut
