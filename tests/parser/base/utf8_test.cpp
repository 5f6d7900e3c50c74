#include "parser/base/utf8.h"

#include <gtest/gtest.h>

#include <string>

#include "parser/base/place.h"
#include "parser/base/quoted_text.h"

namespace provecut {
namespace {

// Unicode 15, table 3-7: first and last of each row, and what lies just outside.
TEST(Utf8, takes_well_formed_sequences_and_nothing_else) {
  struct Case {
    const char* bytes;
    std::size_t taken;
    bool is_utf8;
    char32_t code;
  };
  const Case cases[] = {
      {"\x7F", 1, true, 0x7F},
      {"\x80", 1, false, 0x80},
      {"\xC1\xBF", 1, false, 0xC1},  // overlong
      {"\xC2\x80", 2, true, 0x80},
      {"\xDF\xBF", 2, true, 0x7FF},
      {"\xE0\x80\x80", 1, false, 0xE0},  // overlong
      {"\xE0\xA0\x80", 3, true, 0x800},
      {"\xED\x9F\xBF", 3, true, 0xD7FF},
      {"\xED\xA0\x80", 1, false, 0xED},  // surrogate
      {"\xEE\x80\x80", 3, true, 0xE000},
      {"\xF0\x8F\xBF\xBF", 1, false, 0xF0},  // overlong
      {"\xF0\x90\x80\x80", 4, true, 0x10000},
      {"\xF4\x8F\xBF\xBF", 4, true, 0x10FFFF},
      {"\xF4\x90\x80\x80", 1, false, 0xF4},
      {"\xF5", 1, false, 0xF5},
      {"\xE2\x82", 1, false, 0xE2},  // cut short
  };
  for (const Case& c : cases) {
    const Symbol s = symbolAt(c.bytes, 0);
    EXPECT_EQ(s.bytes, c.taken) << c.bytes;
    EXPECT_EQ(s.is_utf8, c.is_utf8) << c.bytes;
    EXPECT_TRUE(s.code == c.code) << c.bytes;
  }
}

TEST(Utf8, the_first_byte_that_is_none_is_named) {
  EXPECT_EQ(firstByteThatIsNotUtf8("Br\xC3\xBCgge"), std::nullopt);
  EXPECT_EQ(firstByteThatIsNotUtf8("Br\xFCgge"), 2u);
}

// Unicode 15, EastAsianWidth.txt and DerivedGeneralCategory.txt.
TEST(Utf8, a_terminal_gives_a_code_point_none_one_or_two_cells) {
  EXPECT_EQ(displayWidth(U'A'), 1u);
  EXPECT_EQ(displayWidth(U'\u00F8'), 1u);
  EXPECT_EQ(displayWidth(U'\u0301'), 0u);      // combining acute
  EXPECT_EQ(displayWidth(U'\u6728'), 2u);      // tree
  EXPECT_EQ(displayWidth(U'\U0001FAB5'), 2u);  // wood
}

// The caret under a word and the word itself count the same columns, whatever bytes stand before them.
TEST(ShownPlace, an_overlong_form_is_three_columns) {
  const std::string line = "(\xE0\x80\x80) G1 X5";
  const ShownPlace x = shownPlace(line, {1, 10, 12});
  EXPECT_EQ(x, (ShownPlace{1, 10, 12}));
  EXPECT_LE(x.end_column, line.size() + 1);
}

TEST(ShownPlace, columns_count_code_points) {
  EXPECT_EQ(shownPlace("(\xC3\xB8\xE6\x9C\xA8\xF0\x9F\xAA\xB5) X?", {1, 13, 15}), (ShownPlace{1, 7, 9}));
  EXPECT_EQ(shownPlace("G1", {1, 0, 0}), (ShownPlace{1, 0, 0}));
  EXPECT_EQ(shownPlace("G1", {1, 3, 4}), (ShownPlace{1, 3, 4}));  // behind the line's end
}

TEST(ShownText, controls_and_stray_bytes_are_made_visible) {
  EXPECT_EQ(shownText("  X\x1B[2J\xFF "), "X\\x1B[2J\\xFF");
  EXPECT_EQ(shownText("\xC2\x9B"), "\\xC2\\x9B");  // U+009B, a control of its own
  EXPECT_EQ(shownText("\xC3\xB8"), "\xC3\xB8");
  EXPECT_EQ(shownText(std::string(60, 'X'), 40), std::string(40, 'X') + "…");
}

}  // namespace
}  // namespace provecut
