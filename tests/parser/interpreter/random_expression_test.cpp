// Expressions against the values that Python works out for them.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <sstream>
#include <string>

#include "parser/block/block_grammar.h"
#include "parser/interpreter/expression.h"
#include "tests/paths.h"

namespace provecut {
namespace {

struct Output {
  std::string text;
  int status = -1;
};

Output outputOf(const std::string& command) {
  Output output;
  FILE* pipe = popen(command.c_str(), "r");
  if (!pipe) return output;
  std::array<char, 4096> buffer{};
  for (std::size_t n; (n = fread(buffer.data(), 1, buffer.size(), pipe)) > 0;) output.text.append(buffer.data(), n);
  output.status = pclose(pipe);
  return output;
}

// The script writes each expression with the precedence of NISTIR 6556 3.3.2.3 (powers, then products, then sums and
// logic, all from left to right), and works out its value from the tree it wrote it from.
TEST(RandomExpression, ten_thousand_have_the_value_that_python_works_out) {
  if (outputOf("python3 --version 2>/dev/null").status != 0) GTEST_SKIP() << "python3 is not there";
  constexpr int wanted = 10'000;
  const Output output = outputOf(
      "python3 " PROVECUT_SOURCE_DIR "/tests/parser/interpreter/random_expressions.py 6556 " + std::to_string(wanted));
  ASSERT_EQ(output.status, 0);
  interpreter::ParameterTable parameters;
  for (int k = 1; k <= 9; ++k) parameters.set(k, k * k - 20.5);  // as the script has them
  std::istringstream in(output.text);
  std::string line;
  Block block;
  int compared = 0;
  while (std::getline(in, line)) {
    const std::size_t tab = line.find('\t');
    ASSERT_NE(tab, std::string::npos) << line;
    const std::string text = "X" + line.substr(0, tab);
    const double expected = std::strtod(line.c_str() + tab + 1, nullptr);
    readBlock(text, block);
    ASSERT_EQ(block.words.size(), 1u) << text;
    ASSERT_TRUE(block.faults.empty()) << text;
    const interpreter::ExpressionValue v = interpreter::evaluate(block.operations, parameters);
    ASSERT_EQ(v.error, interpreter::ExpressionError::none) << text << " = " << expected;
    EXPECT_NEAR(v.value, expected, 1e-9 * std::fmax(1, std::abs(expected))) << text;
    ++compared;
  }
  EXPECT_EQ(compared, wanted);
}

}  // namespace
}  // namespace provecut
