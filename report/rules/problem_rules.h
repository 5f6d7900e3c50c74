// Rules for what the program reader finds in the text: one per id of parser/problem_ids.h, with the level that it has here.
#pragma once

#include <span>

#include "report/rules/rule.h"

namespace provecut {

std::span<const Rule> problemRules();

}  // namespace provecut
