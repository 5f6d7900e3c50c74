#include "parser/interpreter/expression.h"

#include <array>
#include <cmath>
#include <numbers>
#include <vector>

namespace provecut::interpreter {

namespace {

constexpr double degrees = std::numbers::pi / 180;

// Whole quarter turns give exact values, as a machinist expects of SIN[180].
double sine(double angle) {
  const double turn = std::remainder(angle, 360.0);
  if (turn == 0 || turn == 180 || turn == -180) return 0;
  if (turn == 90) return 1;
  if (turn == -90) return -1;
  if (turn == 30 || turn == 150) return 0.5;
  if (turn == -30 || turn == -150) return -0.5;
  return std::sin(turn * degrees);
}
double cosine(double angle) {
  return sine(std::remainder(angle, 360.0) + 90);
}

struct Stack {
  std::vector<double> values;
  double pop() {
    const double v = values.back();
    values.pop_back();
    return v;
  }
};

bool isUnary(Op op) {
  return op == Op::negate || (op >= Op::abs && op != Op::atan);
}

double fail(ExpressionError& error, ExpressionError what) {
  error = what;
  return 0;
}

// `a` op `b`; one argument: `b`.
double apply(Op op, double a, double b, ExpressionError& error) {
  using enum ExpressionError;
  switch (op) {
    case Op::number:
    case Op::parameter:
      return 0;
    case Op::negate:
      return -b;
    case Op::add:
      return a + b;
    case Op::subtract:
      return a - b;
    case Op::multiply:
      return a * b;
    case Op::divide:
      return b == 0 ? fail(error, divide_by_zero) : a / b;
    case Op::modulo: {  // never negative: the standard leaves it open
      if (b == 0) return fail(error, divide_by_zero);
      const double r = std::fmod(a, b);
      return r < 0 ? r + std::abs(b) : r;
    }
    case Op::power:
      if (a < 0 && std::floor(b) != b) return fail(error, power);
      if (a == 0 && b < 0) return fail(error, divide_by_zero);
      return std::pow(a, b);
    case Op::logical_and:
      return a != 0 && b != 0 ? 1 : 0;
    case Op::logical_or:
      return a != 0 || b != 0 ? 1 : 0;
    case Op::logical_xor:
      return (a != 0) != (b != 0) ? 1 : 0;
    case Op::equal:
      return a == b ? 1 : 0;
    case Op::not_equal:
      return a != b ? 1 : 0;
    case Op::greater:
      return a > b ? 1 : 0;
    case Op::greater_equal:
      return a >= b ? 1 : 0;
    case Op::less:
      return a < b ? 1 : 0;
    case Op::less_equal:
      return a <= b ? 1 : 0;
    case Op::abs:
      return std::abs(b);
    case Op::acos:
      return std::abs(b) > 1 ? fail(error, arc_function) : std::acos(b) / degrees;
    case Op::asin:
      return std::abs(b) > 1 ? fail(error, arc_function) : std::asin(b) / degrees;
    case Op::atan:
      return a == 0 && b == 0 ? 0 : std::atan2(a, b) / degrees;  // four quadrants by the signs of both parts
    case Op::cos:
      return cosine(b);
    case Op::exp:
      return std::exp(b);
    case Op::fix:
      return std::floor(b);  // toward minus infinity: NISTIR 6556 3.3.2.4
    case Op::fup:
      return std::ceil(b);
    case Op::ln:
      return b <= 0 ? fail(error, logarithm) : std::log(b);
    case Op::round:
      return std::round(b);
    case Op::sin:
      return sine(b);
    case Op::sqrt:
      return b < 0 ? fail(error, root_of_negative) : std::sqrt(b);
    case Op::tan:
      return cosine(b) == 0 ? fail(error, divide_by_zero) : std::tan(std::remainder(b, 360.0) * degrees);
  }
  return 0;
}

}  // namespace

bool nearInteger(double value, int& integer) {
  const double whole = std::round(value);
  if (!(std::abs(value - whole) <= 0.0001) || std::abs(whole) > 1e9) return false;
  integer = static_cast<int>(whole);
  return true;
}

ExpressionValue evaluate(std::span<const Operation> operations, const ParameterTable& parameters) {
  ExpressionValue result;
  Stack stack;
  for (const Operation& o : operations) {
    if (o.op == Op::number) {
      stack.values.push_back(o.number);
      continue;
    }
    const double b = stack.pop();
    double value = 0;
    if (o.op == Op::parameter) {
      int index = 0;
      if (!nearInteger(b, index) || index < 1 || index > parameters.lastRead()) {
        const bool beyond = b > parameters.lastRead() && nearInteger(b, index);
        result.error = beyond ? ExpressionError::parameter_beyond_limit : ExpressionError::bad_parameter_index;
        return result;
      }
      // The machine's own data up to #5399 stand in its parameter file; beyond, what is not known here is not set.
      const bool own_data = index >= first_machine_parameter && index <= last_parameter;
      if (!parameters.everSet(index) && !own_data) result.unset_parameter = index;
      value = parameters.get(index);
      result.read.push_back(index);
    } else {
      const double a = isUnary(o.op) ? 0 : stack.pop();
      value = apply(o.op, a, b, result.error);
    }
    if (result.error == ExpressionError::none && !std::isfinite(value)) result.error = ExpressionError::too_large;
    if (result.error != ExpressionError::none) return result;
    stack.values.push_back(value);
  }
  result.value = stack.values.empty() ? 0 : stack.values.back();
  return result;
}

}  // namespace provecut::interpreter
