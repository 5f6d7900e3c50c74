// Rules for what the program reader finds in the text: one for each id of parser/program/problem_ids.h.
#pragma once

#include <span>

#include "report/rules/rule.h"

namespace provecut {

std::span<const Rule> problemRules();

}  // namespace provecut
