// Where hold-downs can go, as pictures: the stock from above, what is free, what is not, what is fitted.
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <cstddef>
#include <iosfwd>
#include <string>

#include "report/placing/hold_down_places.h"

namespace provecut {

// One program: a panel for each form.
void writePlaceSvg(const Places& places, std::size_t program, std::ostream& out);

// All programs, one below the other.
void writePlaceSvg(const Places& places, std::ostream& out);

// A file name for a program's picture that no other program of the job has: "front-20-tray.svg".
std::string placeSvgName(const Places& places, std::size_t program);

}  // namespace provecut
