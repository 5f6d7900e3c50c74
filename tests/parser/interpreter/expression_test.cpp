#include "parser/interpreter/expression.h"

#include <cmath>

#include "tests/parser/interpreter/reading_helper.h"

namespace provecut {
namespace {

double valueOf(std::string_view expression, std::string_view before = "") {
  const std::string text =
      std::string("G90 G21 F1\n") + std::string(before) + "\nG1 X" + std::string(expression) + "\nM2\n";
  const Program p = interpret(text);
  EXPECT_EQ(p.motions.size(), 1u) << expression;
  return p.motions.empty() ? NAN : p.motions.back().end.x;
}

struct Case {
  const char* expression;
  double value, tolerance;
};

// NISTIR 6556 C.2; where it prints a rounded number the tolerance is that of the print.
TEST(Expression, the_values_of_the_standards_expression_program) {
  const Case cases[] = {{"[1 + 2]", 3, 0},
                        {"[1 - 2]", -1, 0},
                        {"[1 --3]", 4, 0},
                        {"[2/5]", 0.4, 0},
                        {"[3.0 * 5]", 15, 0},
                        {"[0 OR 0]", 0, 0},
                        {"[0 OR 1]", 1, 0},
                        {"[2 or 2]", 1, 0},
                        {"[0 AND 0]", 0, 0},
                        {"[0 AND 1]", 0, 0},
                        {"[2 and 2]", 1, 0},
                        {"[0 XOR 0]", 0, 0},
                        {"[0 XOR 1]", 1, 0},
                        {"[2 xor 2]", 0, 0},
                        {"[15 MOD 4.0]", 3, 0},
                        {"[1 + 2 * 3 - 4 / 5]", 6.2, 1e-15},
                        {"sin[30]", 0.5, 1e-15},
                        {"cos[0.0]", 1, 0},
                        {"tan[60.0]", 1.7321, 5e-5},
                        {"sqrt[3]", 1.7321, 5e-5},
                        {"atan[1.7321]/[1.0]", 60, 1e-3},
                        {"asin[1.0]", 90, 1e-12},
                        {"acos[0.707107]", 45, 5e-5},
                        {"abs[20.0]", 20, 0},
                        {"abs[-1.23]", 1.23, 0},
                        {"round[-0.499]", 0, 0},
                        {"round[-0.5001]", -1, 0},
                        {"round[2.444]", 2, 0},
                        {"round[9.975]", 10, 0},
                        {"fix[-0.499]", -1, 0},
                        {"fix[-0.5001]", -1, 0},
                        {"fix[2.444]", 2, 0},
                        {"fix[9.975]", 9, 0},
                        {"fup[-0.499]", 0, 0},
                        {"fup[-0.5001]", 0, 0},
                        {"fup[2.444]", 3, 0},
                        {"fup[9.975]", 10, 0},
                        {"exp[2.3026]", 10, 2e-4},
                        {"ln[10.0]", 2.3026, 5e-5},
                        {"sqrt[3**2 + 4**2]", 5, 0}};
  for (const Case& c : cases) EXPECT_NEAR(valueOf(c.expression), c.value, c.tolerance) << c.expression;
}

// NISTIR 6556 3.3.2.3 and 3.3.2.4.
TEST(Expression, precedence_and_functions_of_the_standard) {
  EXPECT_EQ(valueOf("[2.0 / 3 * 1.5 - 5.5 / 11.0]"), 0.5);
  EXPECT_EQ(valueOf("[2**3**2]"), 64);
  EXPECT_EQ(valueOf("[1 + 1 AND 0]"), 0);
  EXPECT_EQ(valueOf("[0 AND 0 + 5]"), 5);
  EXPECT_NEAR(valueOf("[ 1 + acos[0] - [#3 ** [4.0/2]]]", "#3=15"), -134, 1e-12);
  EXPECT_NEAR(valueOf("ATAN[2]/[1+3]"), 26.565051, 5e-7);
  EXPECT_EQ(valueOf("SIN[90]"), 1);
  EXPECT_EQ(valueOf("FIX[2.8]"), 2);
  EXPECT_EQ(valueOf("FIX[-2.8]"), -3);
  EXPECT_EQ(valueOf("FUP[2.8]"), 3);
  EXPECT_EQ(valueOf("FUP[-2.8]"), -2);
}

// NISTIR 6556 C.2 line n460; the value follows from its formula with the four-quadrant arc tangent.
TEST(Expression, the_long_expression_with_spaces_before_the_slash_of_atan) {
  const double degrees = std::acos(-1.0) / 180;
  const double expected = 2 + std::asin(1 / 2.1 + -0.345) / degrees /
                                  std::pow(std::atan2(std::floor(4.4) * 2.1 * std::sqrt(16.8), -18.0) / degrees, 2);
  EXPECT_NEAR(valueOf("[2 + asin[1/2.1+-0.345] / [atan[fix[4.4] * 2.1 * sqrt[16.8]] /[-18]]**2]"), expected, 1e-12);
}

// NISTIR 6556 3.3.2.2.
TEST(Parameter, the_number_sign_binds_tightest) {
  EXPECT_EQ(valueOf("[#1+2]", "#1=10"), 12);
  EXPECT_EQ(valueOf("#[1+2]", "#3=7"), 7);
  EXPECT_EQ(valueOf("##2", "#2=5 #5=8"), 8);
}

// NISTIR 6556 3.3.3: "#3=6 G1 x#3" with #3 = 15 feeds to X15.
TEST(Parameter, settings_take_effect_after_the_whole_line_is_read) {
  const Program p = interpret("G21 G90 F1\n#3 = 15\n#3=6 G1 x#3\nx#3\nM2");
  ASSERT_EQ(p.motions.size(), 2u);
  EXPECT_EQ(p.motions[0].end.x, 15);
  EXPECT_EQ(p.motions[1].end.x, 6);
}

// NISTIR 6556 3.3.5 and 3.3.6: the last of two settings of one parameter counts.
TEST(Parameter, the_last_of_two_settings_on_a_line_counts) {
  EXPECT_EQ(valueOf("#3", "#3=15 #3=6"), 6);
  EXPECT_EQ(valueOf("#3", "#3=6 #3=15"), 15);
}

TEST(Expression, what_cannot_be_worked_out_is_said_and_its_word_left_out) {
  for (const char* bad :
       {"[1/0]", "sqrt[-1]", "ln[0]", "acos[1.01]", "asin[-2]", "[-8 ** 0.5]", "#0", "#-1", "#1.5", "exp[1000]"}) {
    const Program p = interpret(std::string("G21 G90 F1\n#1=2\nG1 Y1\nX") + bad + " Y2\nM2");
    EXPECT_NE(find(p, "expression"), nullptr) << bad;
    EXPECT_FALSE(p.read_whole) << bad;
    ASSERT_EQ(p.motions.size(), 2u) << bad;
    EXPECT_EQ(p.motions[1].end.y, 2) << bad;
    EXPECT_EQ(p.motions[1].end.x, 0) << bad;
  }
}

}  // namespace
}  // namespace provecut
