#include "parser/interpreter/parameter.h"

namespace provecut::interpreter {

// All parameters start at 0, the active coordinate system at 1 (NISTIR 6556 Table 2).
ParameterTable::ParameterTable()
    : values_(std::make_unique<std::array<double, last_parameter + 1>>()),
      set_(std::make_unique<std::array<bool, last_parameter + 1>>()) {
  set(5220, 1);
}

}  // namespace provecut::interpreter
