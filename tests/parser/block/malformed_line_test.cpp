#include <random>

#include "tests/parser/interpreter/reading_helper.h"

namespace provecut {
namespace {

TEST(Malformed, the_offending_text_is_named_with_its_place_and_the_rest_is_read) {
  const Program p = interpret("G21 G90\nG1 X1.2.3 Y5 F100\nG0 X7\nM2");
  ASSERT_THAT(idsOf(p), testing::ElementsAre("syntax"));
  EXPECT_EQ(p.problems.at(0).place, (Place{2, 4, 10}));
  EXPECT_EQ(p.problems[0].kind, ProblemKind::not_a_number);
  EXPECT_EQ(factOf<fact::Text>(p.problems[0], 0).text, "X1.2.3");
  EXPECT_FALSE(p.read_whole);
  expectSteps(movesFrom(p, 0), {F(0, 5, 100), T(7, 5, 100)});
}

struct UnreadableLine {
  const char* line;
  Place place;
  ProblemKind kind;
};

TEST(Malformed, what_is_wrong_is_said_of_what_is_wrong) {
  using enum ProblemKind;
  const UnreadableLine cases[] = {
      {"N G0 X7", {2, 1, 2}, line_number_without_digits},  // NISTIR 6556 3.3.1
      {"N-5 G0 X7", {2, 1, 4}, line_number_without_digits},
      {"G0 Y5 X7)", {2, 9, 10}, stray_bracket},           // 3.3.4
      {"G0 X7 Y atan[1]", {2, 7, 16}, half_arc_tangent},  // 3.3.2.4
      {"G0 X7 Y atan[1]/", {2, 7, 17}, half_arc_tangent},
      {"G0 X7 Y atan[1]/[2*]", {2, 7, 21}, expression_unreadable},
      {"G0 X7 Y sin[1*]", {2, 7, 16}, expression_unreadable},
      {"G0 X7 Y asim[1]", {2, 7, 16}, unknown_function},
      {"G0 X7 Y--5", {2, 7, 11}, not_a_number},
      {"G0 X7 Y1,5", {2, 7, 11}, comma_in_number},
      {"G0 X7 Y[1 EQ *]", {2, 7, 16}, expression_unreadable},
      {"G0 X7 Y", {2, 7, 8}, letter_without_value},
      {"G0 X7 E5", {2, 7, 9}, unknown_letter},
      {"? G0 X7", {2, 1, 2}, stray_character},
      {"G0 X7 /", {2, 7, 8}, stray_slash},
      {"G0 X7 #1", {2, 7, 9}, setting_unreadable},
  };
  for (const UnreadableLine& c : cases) {
    const Program p = interpret(std::string("G21 G90 G17\n") + c.line + "\nM2");
    ASSERT_THAT(idsOf(p), testing::ElementsAre("syntax")) << c.line;
    EXPECT_EQ(p.problems.at(0).place, c.place) << c.line;
    EXPECT_EQ(p.problems[0].kind, c.kind) << c.line;
    ASSERT_EQ(p.motions.size(), 1u) << c.line;
    EXPECT_EQ(p.motions[0].end.x, 7) << c.line;
  }
}

// NISTIR 6556 E.3: the comparison is what the standard does not have.
TEST(Malformed, strict_reading_marks_the_comparison) {
  const Program p = strictly("G21 G90 G17 G0 X0\n#1=1\nG0 X[#1 EQ 1]\nM2");
  ASSERT_THAT(idsOf(p), testing::ElementsAre("syntax"));
  EXPECT_EQ(p.problems.at(0).place, (Place{3, 9, 11}));
  EXPECT_EQ(p.problems[0].kind, ProblemKind::not_standard);
  EXPECT_EQ(factOf<fact::Text>(p.problems[0], 0).text, "EQ");
}

// Old systems' ends of files: common practice, no source.
TEST(Malformed, ctrl_z_and_nul_at_the_end_are_no_part_of_the_program) {
  using namespace std::string_literals;
  for (const std::string& tail : {"\x1A"s, "\r\n\x1A"s, "\0\0\0"s, "\n\x1A\x1A\n\0\n"s}) {
    const Program p = interpret("G21 G90 G17 G0 X1\nM30" + tail);
    EXPECT_THAT(idsOf(p), testing::ElementsAre("beyond-standard"));
    EXPECT_TRUE(p.read_whole);
    ASSERT_FALSE(p.events.empty());
    EXPECT_EQ(p.events.back().kind, EventKind::end);
    EXPECT_EQ(interpret("G21 G90 G17 G0 X1\nX25" + tail).motions.back().end.x, 25);
    EXPECT_NE(find(strictly("G21 G90 G17 G0 X1\nM30" + tail), "syntax"), nullptr);
  }
  EXPECT_NE(find(interpret("G21 G90 G17 G0 X1\x1A\nG0 X2\nM30"), "syntax"), nullptr);
}

TEST(Malformed, an_unknown_code_is_named) {
  const Program p = interpret("G21 G90 G0 X1\nG413 I2 F100\nM77\nM2");
  ASSERT_THAT(idsOf(p), testing::ElementsAre("unknown-code", "machine-function-unknown"));
  EXPECT_EQ(p.problems.at(0).place, (Place{2, 1, 5}));
  EXPECT_EQ(factOf<fact::Code>(p.problems[1], 0).text, "M77");
  EXPECT_FALSE(p.read_whole);
}

TEST(Malformed, two_codes_of_one_group_conflict) {
  const Program p = interpret("G21 G90 G91 X1\nM2");
  ASSERT_THAT(idsOf(p), testing::Contains("modal-conflict"));
  EXPECT_EQ(p.problems.at(0).place, (Place{1, 9, 12}));
}

TEST(Malformed, control_characters_are_shown_visibly) {
  const Program p = interpret("G21 G90 G0 X1 \x1B[31m\nM2");
  ASSERT_FALSE(p.problems.empty());
  EXPECT_EQ(factOf<fact::Text>(p.problems[0], 0).text, "X1 \\x1B[31m");
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
  EXPECT_TRUE(std::any_of(p.problems.begin(), p.problems.end(), [](const Problem& q) {
    return q.kind == ProblemKind::more_of_the_same && factOf<fact::Count>(q, 0).count == 49'900;
  }));
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
        EXPECT_FALSE(q.id.empty());
      }
      for (const Motion& m : p.motions) {
        ASSERT_TRUE(std::isfinite(m.end.x) && std::isfinite(m.end.y) && std::isfinite(m.end.z)) << text;
      }
    }
  }
}

}  // namespace
}  // namespace provecut
