// Text and numbers for HTML and SVG. Knows nothing of jobs.
#pragma once

#include <string>
#include <string_view>

namespace provecut {

// Text from outside as text between tags or in a quoted attribute: control and direction-changing characters made
// visible, markup characters escaped.
std::string markupText(std::string_view text);

// At most `decimals` digits behind the point, no zeros at the end, never "-0"; "?" for what is no number.
std::string shortNumber(double value, int decimals = 2);

}  // namespace provecut
