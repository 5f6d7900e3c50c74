// What to do about a hold-down in the tool's way.
#pragma once

#include <cstdint>
#include <span>
#include <string>

#include "report/facts/facts.h"

namespace provecut {

// "Move screw SW at least 3.4 mm to the left, or remove it before this program." `moves` are those in its way; where
// all of them are sideways rapids, a retract height is offered too.
std::string holdDownAdvice(const Facts& facts, std::size_t program, int hold_down,
                           std::span<const std::uint32_t> moves);

}  // namespace provecut
