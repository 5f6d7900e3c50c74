#include "parser/interpreter/parameter.h"

namespace provecut::interpreter {

ParameterTable::ParameterTable() : values_(last_read_parameter + 1, 0.0) {
  set(system_parameter, 1);
}

}  // namespace provecut::interpreter
