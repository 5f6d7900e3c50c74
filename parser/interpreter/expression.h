// Value of an expression (NISTIR 6556 3.3.2.2 to 3.3.2.4).
#pragma once

#include <span>

#include "parser/block/block.h"
#include "parser/interpreter/parameter.h"

namespace provecut::interpreter {

enum class ExpressionError : std::uint8_t {
  none,
  bad_parameter_index,
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
};

// Operations in postfix order. Angles in degrees.
ExpressionValue evaluate(std::span<const Operation> operations, const ParameterTable& parameters);

// In plain words, to follow "The value cannot be worked out: ".
const char* describe(ExpressionError error);

// The integer nearest to `value` when it is within 0.0001 of it, as the standard asks of indices and codes; else -1 …
// false.
bool nearInteger(double value, int& integer);

}  // namespace provecut::interpreter
