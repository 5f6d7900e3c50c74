// Programs as a lock file keeps them, and what a program that is not the locked one does otherwise.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "parser/job/lock.h"
#include "report/facts/facts.h"

namespace provecut {

// What its first lines that are only comments say, at most three, safe to show.
std::vector<std::string> firstComments(const ProgramFacts& program);

// What is kept of a program.
LockedProgram lockedProgram(const ProgramFacts& program);

// What of the job is kept: each file once, in the order of the job. Date and verdict are left to the caller.
Lock lockOf(const Facts& facts);

enum class LockState {
  no_lock,        // the job has no lock file
  not_in_lock,    // it has, and this program is not in it
  same,           // the locked file, byte by byte
  same_moves,     // another file that moves the tool in the same way
  other_program,  // it does not
};
LockState lockStateOf(const Facts& facts, const ProgramFacts& program);

// The entry of this file; null: there is none.
const LockedProgram* findLocked(const Lock& lock, std::string_view file);

// What is different between two programs, a phrase for each: "12 moves more (1,204, was 1,192)", "cuts 0.5 mm deeper,
// to Z -19.5 mm", "tool 3 in place of tool 1". Empty where moves, depth, tools and extents are the same.
std::vector<std::string> differences(const Job& job, const LockedProgram& was, const LockedProgram& now);

}  // namespace provecut
