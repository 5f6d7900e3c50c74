// The setup sheet: HTML made for print, one or two pages of A4 or Letter for each setup. Self-contained.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <cstdint>
#include <iosfwd>
#include <span>
#include <string>
#include <vector>

#include "report/facts/locked.h"
#include "report/findings/report.h"

namespace provecut {

// What tells one export of a program from another.
struct ProgramFile {
  std::uintmax_t bytes = 0;
  std::string changed;  // local time, "2026-11-25 14:02"; empty: not known
  std::string digest;   // first digits of its SHA-256
  LockState lock = LockState::no_lock;
};

// One per program of the facts.
std::vector<ProgramFile> programFiles(const Facts& facts);

void writeSheet(const Report& report, std::span<const ProgramFile> files, std::ostream& out);

}  // namespace provecut
