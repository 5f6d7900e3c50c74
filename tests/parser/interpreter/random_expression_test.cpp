// The evaluator against Python's own arithmetic on random expressions.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <memory>
#include <sstream>
#include <string>

#include "parser/block/block_grammar.h"
#include "parser/interpreter/expression.h"
#include "tests/paths.h"

namespace provecut {
namespace {

std::string outputOf(const std::string& command) {
  std::string output;
  const std::unique_ptr<FILE, int (*)(FILE*)> pipe(popen(command.c_str(), "r"), pclose);
  if (!pipe) return output;
  std::array<char, 4096> buffer{};
  for (std::size_t n; (n = fread(buffer.data(), 1, buffer.size(), pipe.get())) > 0;) output.append(buffer.data(), n);
  return output;
}

TEST(RandomExpression, ten_thousand_agree_with_python) {
  constexpr int wanted = 10'000;
  const std::string lines = outputOf("python3 " PROVECUT_SOURCE_DIR "/tests/parser/random_expressions.py 6556 " +
                                     std::to_string(wanted) + " 2>/dev/null");
  if (lines.empty()) GTEST_SKIP() << "python3 is not there";
  std::istringstream in(lines);
  std::string line;
  const interpreter::ParameterTable parameters;
  Block block;
  int compared = 0;
  while (std::getline(in, line)) {
    const std::size_t tab = line.find('\t');
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
