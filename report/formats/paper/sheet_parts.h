// The parts of one setup's section on the sheet, each written as HTML. Used by sheet_page.cpp alone.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>
#include <span>
#include <string>

#include "report/facts/setup_steps.h"
#include "report/formats/paper/sheet_page.h"

namespace provecut {

struct SheetSetup {
  const Facts& facts;
  const Job& job;
  std::size_t index;  // into Job::setups
  std::vector<SetupStep> steps;
};

// What to do, in order: fit and remove hold-downs, change tools, zero, run; a box to tick before each.
void writeSheetSteps(const SheetSetup& s, std::ostream& out);

// Stock, how it is flipped, work zero.
void writeSheetStock(const SheetSetup& s, std::ostream& out);
void writeSheetHoldDowns(const SheetSetup& s, std::ostream& out);
void writeSheetTools(const SheetSetup& s, std::ostream& out);
// `files`: one per program of the job.
void writeSheetFiles(const SheetSetup& s, std::span<const ProgramFile> files, std::ostream& out);

}  // namespace provecut
