// "T0101": tool 1 with offset 1 on many machines, tool 101 on others.
#include "tests/parser/interpreter/reading_helper.h"

namespace provecut {
namespace {

int toolOf(const std::string& word, const InterpreterOptions& options = {}) {
  const Program p = interpret("G21 G90 G17\n" + word + " M6\nG0 X1 Y1 Z5\nM2", options);
  return p.motions.at(0).tool;
}

TEST(ToolWord, four_digits_are_the_tool_that_is_there) {
  EXPECT_EQ(toolOf("T0101", {.tool_diameter_mm = {{1, 3.175}}}), 1);
  EXPECT_EQ(toolOf("T1212", {.tool_diameter_mm = {{12, 3.175}}}), 12);
  EXPECT_EQ(toolOf("T0101", {.tool_diameter_mm = {{101, 3.175}}}), 101);
  EXPECT_EQ(toolOf("T0101", {.tool_diameter_mm = {{1, 3.175}, {101, 6}}}), 101);
  EXPECT_EQ(toolOf("T0101"), 101);
}

TEST(ToolWord, either_way_it_is_said_what_the_word_may_mean) {
  const auto told = [](const InterpreterOptions& options) {
    return interpret("G21 G90 G17\nT0101 M6\nG0 X1 Y1 Z5\nT0202 M6\nG0 X2\nM2", options);
  };
  const Program split = told({.tool_diameter_mm = {{1, 3.175}, {2, 6}}});
  ASSERT_THAT(idsOf(split), ::testing::ElementsAre("tool-with-offset"));
  EXPECT_EQ(split.problems[0].kind, ProblemKind::tool_with_offset);
  EXPECT_EQ(factOf<fact::Code>(split.problems[0], 1).text, "1");
  EXPECT_EQ(factOf<fact::Code>(split.problems[0], 3).text, "101");
  const Program whole = told({});
  ASSERT_THAT(idsOf(whole), ::testing::ElementsAre("tool-with-offset"));
  EXPECT_EQ(whole.problems[0].kind, ProblemKind::tool_or_offset);
}

TEST(ToolWord, a_number_that_no_offset_stands_in_is_the_tool) {
  for (const char* word : {"T1", "T01", "T101", "T001", "T1205", "T1000", "T10101", "T0000"}) {
    const Program p = interpret(std::string("G21 G90 G17\n") + word + " M6\nG0 X1 Y1 Z5\nM2",
                                {.tool_diameter_mm = {{1, 3.175}, {12, 3.175}, {10, 6}}});
    EXPECT_EQ(find(p, "tool-with-offset"), nullptr) << word;
  }
  EXPECT_EQ(toolOf("T1205", {.tool_diameter_mm = {{12, 3.175}}}), 1205);
}

std::vector<std::string> toolComments(const std::string& text) {
  std::vector<std::string> texts;
  for (const Event& e : interpret("G21 G90 G17\n" + text + "\nG0 X1 Y1 Z5\nM2").events) {
    if (e.kind == EventKind::comment_tool) texts.push_back(e.text);
  }
  return texts;
}

TEST(ToolWord, a_comment_beside_it_speaks_of_the_bit) {
  using ::testing::ElementsAre;
  EXPECT_THAT(toolComments("T1 M6 (10MM SPIRAL)"), ElementsAre("10MM SPIRAL"));
  EXPECT_THAT(toolComments("(10MM SPIRAL)\nT1 M6"), ElementsAre("10MM SPIRAL"));
  EXPECT_THAT(toolComments("T1\n(10MM SPIRAL)\n(POCKET)"), ElementsAre("10MM SPIRAL"));
  EXPECT_THAT(toolComments("M6 ; 10MM SPIRAL"), ElementsAre("10MM SPIRAL"));
  EXPECT_THAT(toolComments("(10MM COARSE)\nG0 Z5\nT1 M6"), ElementsAre());
  EXPECT_THAT(toolComments("T1 M6\nG0 Z5\n(10MM COARSE)"), ElementsAre());
}

TEST(ToolWord, a_comment_of_several_tools_speaks_of_each) {
  using ::testing::ElementsAre;
  EXPECT_THAT(toolComments("(T1 8mm flat, T2 6mm ball / T13 VEE)"),
              ElementsAre("T1 8mm flat", "T2 6mm ball", "T13 VEE"));
  EXPECT_THAT(toolComments("(T5 T-slot cutter 12mm)"), ElementsAre("T5 T-slot cutter 12mm"));
}

}  // namespace
}  // namespace provecut
