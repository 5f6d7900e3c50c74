#include "tests/parser/interpreter/reading_helper.h"

namespace provecut {
namespace {

std::vector<double> xs(const Program& p) {
  std::vector<double> all;
  for (const Motion& m : p.motions) all.push_back(m.end.x);
  return all;
}

using testing::ElementsAre;

TEST(Subprogram, m98_runs_it_l_times_and_m99_returns) {
  const Program p = interpret("G21 G90 G0 X0\nG91\nM98 P100 L3\nG90 X50\nM30\nO100\nX1\nM99\n");
  EXPECT_THAT(xs(p), ElementsAre(0, 1, 2, 3, 50));
  EXPECT_TRUE(p.motions[1].flags & motion_in_subprogram);
  EXPECT_FALSE(p.motions[4].flags & motion_in_subprogram);
  EXPECT_EQ(p.motions[3].line, 7u);
  EXPECT_TRUE(p.read_whole);
  EXPECT_EQ(find(p, "text-after-end"), nullptr);
}

TEST(Subprogram, one_that_is_not_in_the_file_is_said_and_the_program_not_whole) {
  const Program p = interpret("G21 G90 G0 X0\nM98 P7\nX1\nM30\n");
  EXPECT_NE(find(p, "subprogram-faulty"), nullptr);
  EXPECT_FALSE(p.read_whole);
}

TEST(Subprogram, m99_at_the_end_of_the_main_program_is_followed_once) {
  const Program p = interpret("G21 G90 G0 X0\nX1\nM99\n");
  EXPECT_EQ(p.motions.size(), 2u);
  EXPECT_NE(find(p, "endless-program"), nullptr);
}

TEST(OWord, a_called_sub_gets_its_arguments_and_leaves_the_callers_parameters) {
  const Program p = interpret("G21 G90\n#1=9\no6 sub\nG0 X#1 Y#2\n#1=77\no6 endsub\no6 call [3] [2+2]\nG0 X#1\nM2\n");
  EXPECT_THAT(xs(p), ElementsAre(3, 9));
  EXPECT_EQ(p.motions.at(0).end.y, 4);
  EXPECT_TRUE(p.read_whole);
}

TEST(OWord, return_leaves_a_sub_early) {
  const Program p = interpret(
      "G21 G90\no1 sub\nG0 X1\no2 if [#1 GT 0]\no1 return\no2 endif\nX2\no1 endsub\no1 call [1]\no1 call [0]\nM2");
  EXPECT_THAT(xs(p), ElementsAre(1, 1, 2));
}

TEST(OWord, if_elseif_else_run_one_part) {
  const auto run = [](int value) {
    return xs(interpret(
        "G21 G90 G0 X0\n#1=" + std::to_string(value) +
        "\no1 if [#1 EQ 1]\nX1\no1 elseif [#1 EQ 2]\nX2\no1 elseif [#1 EQ 3]\nX3\no1 else\nX9\no1 endif\nX10\nM2"));
  };
  EXPECT_THAT(run(1), ElementsAre(0, 1, 10));
  EXPECT_THAT(run(2), ElementsAre(0, 2, 10));
  EXPECT_THAT(run(3), ElementsAre(0, 3, 10));
  EXPECT_THAT(run(4), ElementsAre(0, 9, 10));
}

TEST(OWord, loops_run_as_often_as_they_say) {
  EXPECT_THAT(xs(interpret("G21 G90\n#1=0\no1 while [#1 LT 3]\nG0 X#1\n#1=[#1+1]\no1 endwhile\nX9\nM2")),
              ElementsAre(0, 1, 2, 9));
  EXPECT_THAT(xs(interpret("G21 G90\n#1=5\no1 while [#1 LT 3]\nG0 X#1\no1 endwhile\nG0 X9\nM2")), ElementsAre(9));
  EXPECT_THAT(xs(interpret("G21 G90\n#1=0\no1 do\nG0 X#1\n#1=[#1+1]\no1 while [#1 LT 2]\nX9\nM2")),
              ElementsAre(0, 1, 9));
  EXPECT_THAT(xs(interpret("G21 G91\no1 repeat [4]\nG0 X1\no1 endrepeat\nM2")), ElementsAre(1, 2, 3, 4));
  EXPECT_THAT(xs(interpret("G21 G91 G0 X0\no1 repeat [0]\nG0 X1\no1 endrepeat\nM2")), ElementsAre(0));
}

TEST(OWord, break_and_continue) {
  EXPECT_THAT(
      xs(interpret(
          "G21 G90\n#1=0\no1 while [1]\n#1=[#1+1]\no2 if [#1 EQ 2]\no1 continue\no2 endif\no3 if [#1 EQ 4]\no1 break\n"
          "o3 endif\nG0 X#1\no1 endwhile\nX9\nM2")),
      ElementsAre(1, 3, 9));
}

// NISTIR 6556 3.3: letters mean the same in either case.
TEST(OWord, names_are_the_same_in_either_case) {
  EXPECT_THAT(xs(interpret("G21 G90\nO<Face> sub\nG0 X1\no<FACE> ENDSUB\no<face> call\nO<lOOp> repeat [2]\nG0 "
                           "X2\no<Loop> endrepeat\nM2")),
              ElementsAre(1, 2, 2));
}

TEST(Limit, an_endless_loop_ends_with_a_finding) {
  for (const char* text : {"G21 G90\no1 while [1]\nG0 X1\no1 endwhile\nM2", "G21 G90\no1 while [1]\no1 endwhile\nM2",
                           "O1\nG21\nM98 P1\nM30", "G21\no1 sub\no1 call\no1 endsub\no1 call\nM2",
                           "G91 G21\no1 repeat [1000000000]\nG0 X1\no1 endrepeat\nM2",
                           "G21 G91\nM98 P5 L1000000000\nM30\nO5\nG0 X1\nM99"}) {
    const Program p = interpret(text);
    EXPECT_NE(find(p, "limit-reached"), nullptr) << text;
    EXPECT_FALSE(p.read_whole) << text;
    EXPECT_LE(p.motions.size(), 3'000'000u) << text;
  }
}

// Work that would grow with the square of the file's length.
TEST(Limit, many_o_words_of_one_name_cost_little) {
  std::string calls = "G21\n", ifs = "G21\n", comments = "(";
  for (int i = 0; i < 200'000; ++i) {
    calls += "o1 call\n";
    ifs += "o1 if [0]\n";
    comments += "M6 ";
  }
  EXPECT_NE(find(interpret(calls + "M2"), "subprogram-faulty"), nullptr);
  EXPECT_FALSE(interpret(ifs + "M2").read_whole);
  EXPECT_EQ(interpret(comments + ")\nG21 G90 T1 G0 X1\nM2").motions.at(0).tool, 1);
}

}  // namespace
}  // namespace provecut
