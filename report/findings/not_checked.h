// What a check could not look at, and why: with any of it no verdict is clear.
#pragma once

#include <string>
#include <vector>

#include "report/facts/facts.h"

namespace provecut {

// One sentence each, safe to show: programs not followed to their end, what the simulation left out, values that a
// first job file guessed and nobody confirmed, setups for which nothing says what holds the stock.
std::vector<std::string> whatWasNotChecked(const Facts& facts);

}  // namespace provecut
