// What a lock file keeps of the programs that were checked, so that another export can be told from them.
#pragma once

#include <string>
#include <vector>

#include "parser/base/geometry.h"
#include "parser/base/place.h"

namespace provecut {

struct LockedProgram {
  std::string file;          // as the job file writes it
  std::string sha256;        // of its bytes, 64 lower-case hexadecimal digits
  std::string moves_sha256;  // of all its moves with their tools, feeds and speeds: comments do not count
  int bytes = 0;
  std::vector<std::string> comments;  // its first ones
  int moves = 0;
  std::vector<int> tools;  // in order of their numbers
  WorkBox cuts;            // of the moves at feed; empty where there is none
  Place place;             // of the [[program]] table
};

struct Lock {
  std::string date;     // "2026-11-30"
  std::string verdict;  // of the check at that time: "clear", "note", "look" or "stop"
  std::vector<LockedProgram> programs;
};

}  // namespace provecut
