// Programs that change their modes often, for tests of what a line in mid-program rests on.
#pragma once

#include <random>
#include <string>

namespace provecut::testing {

// Ends with M30. Has moves in all planes, cycles, tool changes, compensation, offsets, parameters, and in some a loop
// or subprograms.
std::string randomProgram(std::mt19937& random);

}  // namespace provecut::testing
