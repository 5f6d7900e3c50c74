// Rules for what the program reader finds in the text: one per id of parser/program/problem_ids.h, with the level that
// it has here.
#pragma once

#include <span>
#include <string_view>

#include "report/rules/rule.h"

namespace provecut {

std::span<const Rule> problemRules();

// Whether the table of levels knows the id; one that it does not know is taken as stop.
bool hasLevel(std::string_view id);

}  // namespace provecut
