// The visible list of rules. A new rule is its own file here, its name below, and one line in list.cpp.
#pragma once

#include "report/rules/rule.h"

namespace provecut {

extern const Rule accept_unused_rule;
extern const Rule assumed_rule;

}  // namespace provecut
