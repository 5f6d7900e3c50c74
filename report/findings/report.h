// The whole answer to `check`, ready for any format.
#pragma once

#include <string>
#include <vector>

#include "report/facts/facts.h"
#include "report/facts/finding.h"
#include "report/findings/likely_cause.h"

namespace provecut {

enum class Verdict { clear, note, look, stop };

std::string_view verdictName(Verdict verdict);

struct Report {
  const Facts* facts = nullptr;
  std::vector<LikelyCause> likely_causes;  // the likeliest first; only where somebody looked for them
  std::vector<Finding> findings;           // sorted by level, then by order in the job
  Verdict verdict = Verdict::clear;        // accepted findings left out; never clear when not complete
  bool complete = true;
  std::vector<std::string> not_checked;
};

// Runs every rule, groups, applies the job's [[accept]] entries, sorts, and draws the verdict.
Report makeReport(const Facts& facts);

}  // namespace provecut
