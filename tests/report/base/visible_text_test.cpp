#include "report/base/visible_text.h"

#include <gtest/gtest.h>

namespace provecut {
namespace {

TEST(VisibleText, plain_words_stay_as_they_are) {
  EXPECT_EQ(visibleText("G1 X10 (Tasche, \xC3\xB8 6 mm)"), "G1 X10 (Tasche, \xC3\xB8 6 mm)");
}

TEST(VisibleText, an_escape_sequence_cannot_move_the_cursor) {
  EXPECT_EQ(visibleText("G1\x1b[2J"), "G1\\x1B[2J");
}

TEST(VisibleText, a_zero_byte_and_a_delete_are_seen) {
  EXPECT_EQ(visibleText(std::string_view("a\0b\x7f", 4)), "a\\x00b\\x7F");
}

TEST(VisibleText, a_control_code_of_the_second_block_is_seen) {
  EXPECT_EQ(visibleText("a\xC2\x9B"
                        "2J"),
            "a\\u{009B}2J");  // U+009B: control sequence introducer (ECMA-48 5.4)
}

TEST(VisibleText, marks_that_turn_the_reading_order_round_are_seen) {
  EXPECT_EQ(visibleText("X\xE2\x80\xAE"
                        "5\xE2\x81\xA9"),
            "X\\u{202E}5\\u{2069}");  // Unicode Standard Annex 9, 2.2 and 2.4
}

TEST(VisibleText, spaces_of_no_width_are_seen) {
  EXPECT_EQ(visibleText("X\xE2\x80\x8B"
                        "5\xEF\xBB\xBF"),
            "X\\u{200B}5\\u{FEFF}");
}

TEST(VisibleText, bytes_that_are_not_utf8_are_seen_one_by_one) {
  EXPECT_EQ(visibleText("(d\xE9j\xE0)"), "(d\\xE9j\\xE0)");            // Latin-1
  EXPECT_EQ(visibleText("\xE2\x82"), "\\xE2\\x82");                    // cut short
  EXPECT_EQ(visibleText("\xC0\xAF"), "\\xC0\\xAF");                    // overlong (RFC 3629 clause 3)
  EXPECT_EQ(visibleText("\xED\xA0\x80"), "\\xED\\xA0\\x80");           // a surrogate (RFC 3629 clause 3)
  EXPECT_EQ(visibleText("\xF4\x90\x80\x80"), "\\xF4\\x90\\x80\\x80");  // beyond U+10FFFF
}

TEST(VisibleText, twice_is_the_same_as_once) {
  std::string all;
  for (int b = 0; b < 256; ++b) all.push_back(static_cast<char>(b));
  const std::string once = visibleText(all);
  EXPECT_EQ(visibleText(once), once);
  for (const char c : once) EXPECT_TRUE(c >= 0x20 && c < 0x7F) << static_cast<int>(c);
}

TEST(VisibleText, a_tab_is_one_space) {
  EXPECT_EQ(visibleText("G1\tX1"), "G1 X1");
}

TEST(Excerpt, the_marked_word_is_under_its_cells) {
  const Excerpt e = excerptOf("G1 X10 F300", {1, 4, 7}, 80);
  EXPECT_EQ(e.text, "G1 X10 F300");
  EXPECT_EQ(e.mark_begin, 3u);
  EXPECT_EQ(e.mark_end, 6u);
}

TEST(Excerpt, what_grows_when_made_visible_shifts_the_mark) {
  const Excerpt e = excerptOf("\x1b X10", {1, 3, 6}, 80);
  EXPECT_EQ(e.text, "\\x1B X10");
  EXPECT_EQ(e.mark_begin, 5u);
  EXPECT_EQ(e.mark_end, 8u);
}

TEST(Excerpt, wide_letters_take_two_cells) {
  const Excerpt e = excerptOf("(\xE6\x9C\xA8) X1", {1, 5, 7}, 80);  // U+6728, wide (Unicode Standard Annex 11)
  EXPECT_EQ(e.mark_begin, 5u);
  EXPECT_EQ(e.mark_end, 7u);
}

TEST(Excerpt, a_place_behind_the_line_is_marked_there) {
  const Excerpt e = excerptOf("G4", {1, 3, 4}, 80);
  EXPECT_EQ(e.mark_begin, 2u);
  EXPECT_EQ(e.mark_end, 3u);
}

TEST(Excerpt, a_line_without_place_has_no_mark) {
  const Excerpt e = excerptOf("G4", {1, 0, 0}, 80);
  EXPECT_EQ(e.mark_end, 0u);
}

TEST(Excerpt, a_long_line_is_cut_around_its_mark) {
  std::string line;
  for (int i = 0; i < 100000; ++i) line += "X1 ";
  line += "Q9 ";
  for (int i = 0; i < 100000; ++i) line += "Y1 ";
  const Excerpt e = excerptOf(line, {1, 300001, 300003}, 60);
  EXPECT_LE(displayWidth(e.text), 60u);
  EXPECT_TRUE(e.text.starts_with("..."));
  EXPECT_TRUE(e.text.ends_with("..."));
  EXPECT_EQ(e.text.substr(e.mark_begin, e.mark_end - e.mark_begin), "Q9");
}

TEST(Excerpt, a_mark_longer_than_the_room_begins_in_it) {
  const std::string line = "G1 " + std::string(500, '9');
  const Excerpt e = excerptOf(line, {1, 4, 504}, 60);
  EXPECT_LE(displayWidth(e.text), 60u);
  EXPECT_EQ(e.text.substr(0, e.mark_begin), "G1 ");
  EXPECT_GT(e.mark_end, e.mark_begin);
  EXPECT_LE(e.mark_end, 60u);
}

TEST(Excerpt, every_width_is_kept) {
  const std::string line = "N10 G1 X\x1b\xE6\x9C\xA8 Y20.5 Z-3 F1200 (a comment that goes on)";
  for (std::size_t width = 8; width < 80; ++width) {
    for (std::uint32_t column = 1; column < 50; ++column) {
      const Excerpt e = excerptOf(line, {1, column, column + 3}, width);
      EXPECT_LE(displayWidth(e.text), width) << "width " << width << ", column " << column;
      EXPECT_LE(e.mark_begin, e.mark_end);
    }
  }
}

}  // namespace
}  // namespace provecut
