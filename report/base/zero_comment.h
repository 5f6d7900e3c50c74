// What a program's comment says of work zero and of the material: "(Origin: top left of stock)", "(G54 BACK-LEFT-TOP)",
// "(Material: Hardwood)".
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "parser/job/job.h"

namespace provecut {

struct ZeroComment {
  std::string x, y, z;  // words as the job file has them; empty where it does not say
};

// Nothing where it says neither left nor right, front nor back. On a drawing "top left" is the back left corner.
std::optional<ZeroComment> readZeroComment(std::string_view text);

std::optional<Material> readMaterialComment(std::string_view text);

}  // namespace provecut
