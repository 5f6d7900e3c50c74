// What a program's comment says of the stock: "(STOCK 4.125 x 3.625 x 1.000)", "(Stock: DX 3.3IN DY 1.8IN DZ 0.6IN)".
#pragma once

#include <optional>
#include <string_view>

#include "parser/base/geometry.h"

namespace provecut {

// X, Y and thickness in mm; nothing where the comment does not give all three. A number without a unit is in the
// program's: `inches`.
std::optional<Vec3> readStockComment(std::string_view text, bool inches);

}  // namespace provecut
