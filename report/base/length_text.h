// Several lengths in one word of the command line.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "parser/base/length_text.h"

namespace provecut {

// "60x20", "60x20mm", "60mmx2in": a unit that stands only at the end is that of all. Absent where one is no length.
std::optional<std::vector<WrittenLength>> lengthsOf(std::string_view text);

}  // namespace provecut
