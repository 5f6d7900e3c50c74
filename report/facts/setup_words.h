// What the operator does to the stock and the hold-downs, in words.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "report/facts/facts.h"

namespace provecut {

// "face up", "flipped left to right", "flipped front to back, then rotated 90° counter-clockwise": against the job
// file's own description of the stock.
std::string stockWords(const Setup& setup);

// The keys that say so in the job file: `flip = "front-back"`, `flip = "left-right"` and `rotate = 180`.
std::string stockKeys(Flip flip, int rotate_deg);

// "Fit screw SW, then remove clamp S": the new before the old, so that the stock is never loose. From two lists of
// names, as they are to be shown; empty where both are.
std::string holdDownChange(std::string_view fit, std::string_view remove);

// "setup front", "setup 1": a name that says so itself gets no second word.
std::string setupText(const Setup& setup);

// What changes on the machine before a program (an index into Facts::programs) after the one before it; empty where
// nothing does. Within a setup hold-downs are fitted before others are removed, so that the stock never lies loose.
// Names have their control characters made visible.
std::string changeWords(const Facts& facts, std::size_t program);

}  // namespace provecut
