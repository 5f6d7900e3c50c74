#include "parser/block/block_grammar.h"

#include <gtest/gtest.h>

#include <charconv>
#include <random>
#include <string>

namespace provecut {
namespace {

Block read(std::string_view line) {
  Block block;
  readBlock(line, block);
  return block;
}

std::string letters(const Block& b) {
  std::string all;
  for (const Word& w : b.words) all += w.letter;
  return all;
}

// NISTIR 6556 3.3: "g0x +0. 12 34y 7" means "G0 X0.1234 Y7".
TEST(Block, blanks_mean_nothing_even_inside_a_number) {
  const Block b = read("g0x +0. 12 34y 7");
  ASSERT_EQ(letters(b), "GXY");
  EXPECT_EQ(b.words.at(0).value, 0);
  EXPECT_EQ(b.words[1].value, 0.1234);
  EXPECT_EQ(b.words[2].value, 7);
  EXPECT_TRUE(b.faults.empty());
}

TEST(Block, each_word_knows_its_columns_in_bytes) {
  const Block b = read("N20 G01X-12.5  Y.5(\xC3\xA4)F100");
  ASSERT_EQ(letters(b), "GXYF");
  EXPECT_EQ(b.words.at(0).column, 5u);
  EXPECT_EQ(b.words.at(0).end_column, 8u);
  EXPECT_EQ(b.words[1].column, 8u);
  EXPECT_EQ(b.words[1].end_column, 14u);
  EXPECT_EQ(b.words[2].column, 16u);
  EXPECT_EQ(b.words[2].end_column, 19u);
  EXPECT_EQ(b.words[3].column, 23u);
  EXPECT_TRUE(b.numbered);
}

// NISTIR 6556 3.3.2.1: sign, digits, at most one point, at least one digit.
TEST(Block, numbers_of_the_standard_are_read) {
  const std::pair<const char*, double> cases[] = {{"X5", 5},
                                                  {"X5.", 5},
                                                  {"X.5", 0.5},
                                                  {"X+0.5", 0.5},
                                                  {"X-.5", -0.5},
                                                  {"X007.50", 7.5},
                                                  {"X0.00000000000000000001", 1e-20}};
  for (const auto& [text, value] : cases) {
    const Block b = read(text);
    ASSERT_EQ(b.words.size(), 1u) << text;
    EXPECT_EQ(b.words[0].value, value) << text;
  }
}

TEST(Block, what_is_no_number_is_left_out_and_marked) {
  for (const char* text : {"X.", "X-", "X1.2.3", "X+-1", "X1,5", "X5-3", "X--1", "X1E3", "Xinf", "Xnan"}) {
    const Block b = read(std::string("G1 ") + text + " Y2");
    EXPECT_EQ(b.faults.size(), 1u) << text;
    ASSERT_FALSE(b.words.empty());
    EXPECT_EQ(b.words.back().letter, 'Y') << text;
    EXPECT_EQ(b.words.back().value, 2) << text;
  }
}

TEST(Block, numbers_are_the_nearest_double_as_the_library_reads_them) {
  std::mt19937 random(20241117);
  std::uniform_int_distribution<int> digit('0', '9'), whole(0, 9), decimals(0, 14), sign(0, 1);
  for (int i = 0; i < 20000; ++i) {
    std::string text = sign(random) ? "-" : "";
    for (int n = whole(random); n >= 0; --n) text += static_cast<char>(digit(random));
    text += '.';
    for (int n = decimals(random); n > 0; --n) text += static_cast<char>(digit(random));
    double expected = 0;
    std::from_chars(text.data(), text.data() + text.size(), expected);
    const std::string line = "X" + text;
    const Block b = read(line);
    ASSERT_EQ(b.words.size(), 1u) << text;
    ASSERT_EQ(b.words[0].value, expected) << text;
  }
}

TEST(Block, an_exponent_with_its_sign_is_read_and_noted) {
  const Block b = read("X4.592e-17");
  ASSERT_EQ(b.words.size(), 1u);
  EXPECT_EQ(b.words[0].value, 4.592e-17);
  ASSERT_EQ(b.extensions.size(), 1u);
  EXPECT_EQ(b.extensions[0].kind, ExtensionKind::exponent);
}

TEST(Block, comments_of_both_styles) {
  const Block b = read("G1 (to (the edge) X1 ; rest X2");
  EXPECT_EQ(letters(b), "GX");
  ASSERT_EQ(b.comments.size(), 2u);
  EXPECT_EQ(b.comments[1].text, " rest X2");
  const Block unclosed = read("(never closed G1 X1");
  EXPECT_TRUE(unclosed.words.empty());
  ASSERT_EQ(unclosed.extensions.size(), 1u);
  EXPECT_EQ(unclosed.extensions[0].kind, ExtensionKind::unclosed_comment);
}

TEST(Block, a_line_may_hold_nothing_but_slash_and_number) {
  const Block b = read("/N5");
  EXPECT_TRUE(b.block_delete);
  EXPECT_TRUE(b.numbered);
  EXPECT_TRUE(b.faults.empty());
  EXPECT_TRUE(b.empty());
}

// NISTIR 6556 3.3.1: one to five digits.
TEST(Block, a_line_number_of_six_digits_is_noted) {
  EXPECT_TRUE(read("N00009 G1").extensions.empty());
  ASSERT_EQ(read("N000009 G1").extensions.size(), 1u);
  EXPECT_EQ(read("N000009 G1").extensions[0].kind, ExtensionKind::long_line_number);
}

TEST(Block, unreadable_text_is_one_fault_and_what_follows_is_read) {
  const std::string line = "G00 G28 X___ Y____ Z3";
  const Block b = read(line);
  EXPECT_EQ(letters(b), "GGZ");
  ASSERT_EQ(b.faults.size(), 1u);
  EXPECT_EQ(line.substr(b.faults[0].column - 1, b.faults[0].end_column - b.faults[0].column), "X___ Y____");
}

// NISTIR 6556 Table 10: "g1 x asim[0.5]" is refused.
TEST(Block, an_unknown_function_is_one_fault) {
  const Block b = read("g1 x asim[0.5]");
  EXPECT_EQ(letters(b), "G");
  ASSERT_EQ(b.faults.size(), 1u);
  EXPECT_EQ(b.faults[0].kind, FaultKind::unknown_function);
}

TEST(Block, letters_outside_the_language_are_faults) {
  for (const char* text : {"E1.5", "U2", "V3", "W-4"}) {
    const Block b = read(std::string("G1 ") + text);
    ASSERT_EQ(b.faults.size(), 1u) << text;
    EXPECT_EQ(b.faults[0].kind, FaultKind::unknown_letter) << text;
  }
}

TEST(Block, nesting_beyond_the_limit_is_a_fault_not_a_crash) {
  const std::string deep = "X" + std::string(30000, '[') + "1" + std::string(30000, ']') + " Y1";
  const Block b = read(deep);
  EXPECT_EQ(b.faults.size(), 1u);
  EXPECT_EQ(letters(b), "Y");
  EXPECT_EQ(letters(read("X[[[[[[[[[[1]]]]]]]]]]")), "X");
}

TEST(Block, a_checksum_is_checked) {
  // Exclusive or of the bytes before the star: a closed form worked out here.
  const std::string text = "N3 G1 X1";
  unsigned sum = 0;
  for (const char c : text) sum ^= static_cast<unsigned char>(c);
  EXPECT_FALSE(read(text + "*" + std::to_string(sum)).checksum_wrong);
  EXPECT_TRUE(read(text + "*" + std::to_string(sum ^ 1u)).checksum_wrong);
}

TEST(Block, o_words_name_their_flow) {
  EXPECT_EQ(read("O1001 (part)").label.flow, Flow::label);
  EXPECT_EQ(read("o0100 sub").label.flow, Flow::sub);
  EXPECT_EQ(read("o0100 sub").label.name, "100");
  const std::string line = "o<probe> call [1] [2+3]";
  const Block call = read(line);
  EXPECT_EQ(call.label.name, "PROBE");
  EXPECT_EQ(call.label.arguments.size(), 2u);
  EXPECT_EQ(read("O2 endwhile").label.flow, Flow::endwhile);
}

}  // namespace
}  // namespace provecut
