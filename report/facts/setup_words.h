// What the operator does to the stock and the hold-downs, in words.
#pragma once

#include <cstddef>
#include <string>

#include "report/facts/facts.h"

namespace provecut {

// "face up", "flipped left to right", "flipped front to back, then rotated 90° counter-clockwise": against the job
// file's own description of the stock.
std::string stockWords(const Setup& setup);

// "setup front", "setup 1": a name that says so itself gets no second word.
std::string setupText(const Setup& setup);

// What changes on the machine before a program (an index into Facts::programs) after the one before it; empty where
// nothing does. Within a setup hold-downs are fitted before others are removed, so that the stock never lies loose.
// Names have their control characters made visible.
std::string changeWords(const Facts& facts, std::size_t program);

}  // namespace provecut
