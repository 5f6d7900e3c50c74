#include <random>

#include "tests/parser/reading_helper.h"

namespace provecut {
namespace {

TEST(Malformed, the_offending_text_is_named_with_its_place_and_the_rest_is_read) {
  const Program p = interpret("G21 G90\nG1 X1.2.3 Y5 F100\nG0 X7\nM2");
  ASSERT_THAT(idsOf(p), testing::ElementsAre("syntax"));
  EXPECT_EQ(p.problems[0].place, (Place{2, 4, 10}));
  EXPECT_THAT(p.problems[0].message, testing::HasSubstr("X1.2.3"));
  EXPECT_FALSE(p.read_whole);
  expectSteps(movesFrom(p, 0), {F(0, 5, 100), T(7, 5, 100)});
}

TEST(Malformed, an_unknown_code_is_named) {
  const Program p = interpret("G21 G90 G0 X1\nG13 I2 F100\nM45\nM2");
  ASSERT_THAT(idsOf(p), testing::ElementsAre("unknown-code", "unknown-code"));
  EXPECT_EQ(p.problems[0].place, (Place{2, 1, 4}));
  EXPECT_THAT(p.problems[1].message, testing::HasSubstr("M45"));
  EXPECT_FALSE(p.read_whole);
}

TEST(Malformed, two_codes_of_one_group_conflict) {
  const Program p = interpret("G21 G90 G91 X1\nM2");
  ASSERT_THAT(idsOf(p), testing::Contains("modal-conflict"));
  EXPECT_EQ(p.problems[0].place, (Place{1, 9, 12}));
}

TEST(Malformed, control_characters_are_shown_visibly) {
  const Program p = interpret("G21 G90 G0 X1 \x1B[31m\nM2");
  ASSERT_FALSE(p.problems.empty());
  for (const Problem& q : p.problems) EXPECT_EQ(q.message.find('\x1B'), std::string::npos);
}

TEST(Malformed, a_huge_line_is_not_followed_and_costs_little) {
  std::string text = "G21 G90 G0 X1\n";
  text += std::string(100'000'000, 'X');
  text += "\nG0 X2\nM2";
  const Program p = interpret(text);
  EXPECT_NE(find(p, "limit-reached"), nullptr);
  EXPECT_FALSE(p.read_whole);
  ASSERT_EQ(p.motions.size(), 2u);
  EXPECT_EQ(p.motions[1].line, 3u);
}

TEST(Malformed, numbers_beyond_any_machine_are_left_out) {
  const Program p = interpret("G21 G90 F100\nG1 X" + std::string(300, '9') + " Y1\nX0.0000000001\nM2");
  EXPECT_NE(find(p, "word-out-of-range"), nullptr);
  ASSERT_EQ(p.motions.size(), 2u);
  EXPECT_EQ(p.motions[0].end.y, 1);
  EXPECT_EQ(p.motions[1].end.x, 1e-10);
}

TEST(Malformed, many_problems_of_one_id_are_counted_not_listed) {
  std::string text = "G21 G90\n";
  for (int i = 0; i < 50'000; ++i) text += "G0 X__\n";
  const Program p = interpret(text);
  EXPECT_LT(p.problems.size(), 200u);
  EXPECT_TRUE(std::any_of(p.problems.begin(), p.problems.end(),
                          [](const Problem& q) { return q.message.find("49900 more") != std::string::npos; }));
}

// Whatever the bytes, reading ends, keeps its promises about places, and says so when something was left out.
TEST(Malformed, random_text_never_breaks_the_reader) {
  std::mt19937 random(7);
  const std::string alphabet = "GMXYZIJKRFSTNPQLDHO0123456789.-+ []#=()/;%*\n\r\tEe<>,asin\xC3\xA4\x01";
  for (int round = 0; round < 3000; ++round) {
    std::string text;
    const std::size_t size = random() % 200;
    for (std::size_t i = 0; i < size; ++i) text += alphabet[random() % alphabet.size()];
    for (const bool strict : {false, true}) {
      const Program p = interpret(text, {.strict = strict});
      for (const Problem& q : p.problems) {
        EXPECT_LE(q.place.line, p.lines) << text;
        EXPECT_LE(q.place.column, q.place.end_column) << text;
        EXPECT_FALSE(q.message.empty());
      }
      for (const Motion& m : p.motions) {
        ASSERT_TRUE(std::isfinite(m.end.x) && std::isfinite(m.end.y) && std::isfinite(m.end.z)) << text;
      }
    }
  }
}

}  // namespace
}  // namespace provecut
