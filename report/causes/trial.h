// One other description, tried by running the job under it.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "report/causes/candidate.h"
#include "report/causes/effect.h"
#include "report/facts/load.h"
#include "report/findings/report.h"

namespace provecut::causes {

struct Trial {
  const Candidate* candidate = nullptr;
  Effect effect;
  Count before, after;            // all findings of the candidate's scope
  std::vector<std::size_t> gone;  // findings, by index
};

// Whose findings the candidate would explain.
Scope scopeOf(const Facts& facts, const Candidate& candidate);

// Absent where the description does not explain what was found.
std::optional<Trial> tried(const Report& report, const Candidate& candidate, const LoadOptions& options);

// True where `a` explains more than `b`.
bool better(const Trial& a, const Trial& b);

}  // namespace provecut::causes
