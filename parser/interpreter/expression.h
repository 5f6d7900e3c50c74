// Value of an expression (NISTIR 6556 3.3.2.2 to 3.3.2.4).
#pragma once

#include <span>
#include <vector>

#include "parser/block/block.h"
#include "parser/interpreter/parameter.h"

namespace provecut::interpreter {

enum class ExpressionError : std::uint8_t {
  none,
  bad_parameter_index,
  parameter_beyond_limit,
  divide_by_zero,
  root_of_negative,
  logarithm,
  arc_function,
  power,
  too_large,
};

struct ExpressionValue {
  double value = 0;
  ExpressionError error = ExpressionError::none;
  int unset_parameter = 0;  // one that was read though nothing ever set it; 0: none
  std::vector<int> read;    // the parameters that it depends on
};

// Operations in postfix order. Angles in degrees.
ExpressionValue evaluate(std::span<const Operation> operations, const ParameterTable& parameters);

// False unless `value` is within 0.0001 of a whole number, as the standard asks of indices and codes
// (NISTIR 6556 3.3.2.1); `integer` is that number then.
bool nearInteger(double value, int& integer);

}  // namespace provecut::interpreter
