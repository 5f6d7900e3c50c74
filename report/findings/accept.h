// Findings that the job's owner has looked at: the [[accept]] entries of the job file.
#pragma once

#include <span>
#include <vector>

#include "report/facts/facts.h"
#include "report/facts/finding.h"

namespace provecut {

// Gives each finding that an entry meets its reason. What meets nothing comes back as findings of rule "accept-unused".
std::vector<Finding> applyAccepts(const Facts& facts, std::span<Finding> findings);

}  // namespace provecut
