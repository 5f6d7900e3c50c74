#include "report/findings/report.h"

#include <gmock/gmock.h>

#include <memory>

#include "report/rules/rule.h"

namespace provecut {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

// A job of programs that hold nothing but their text and the problems found in it.
struct ReadScene {
  std::unique_ptr<Facts> facts = std::make_unique<Facts>();

  ReadScene() {
    facts->job.file = "job.toml";
    facts->job.setups.resize(1);
    facts->job.setups[0].name = "front";
    facts->job.setups[0].programs.reserve(10);
  }

  // Text of the program, its problems.
  void program(const std::string& file, const std::string& text, std::vector<Problem> problems) {
    Setup& setup = facts->job.setups[0];
    ProgramEntry& entry = setup.programs.emplace_back();
    entry.file = file;
    ProgramFacts& p = facts->programs.emplace_back();
    p.setup = &setup;
    p.entry = &entry;
    p.text = text;
    p.line_starts = lineStarts(text);
    p.program.problems = std::move(problems);
    facts->run.programs.emplace_back();
  }

  void accept(Accept a) { facts->job.accepts.push_back(std::move(a)); }
};

Problem problem(std::string_view id, Place place) {
  return {ProblemKind::end_missing, id, place, {}, {}};
}

Problem unreadable(Place place, std::string text) {
  return {ProblemKind::not_a_number, "syntax", place, {fact::Text{std::move(text)}}, {}};
}

Problem unknownCode(Place place, std::string code) {
  return {ProblemKind::unknown_code, "unknown-code", place, {fact::Code{std::move(code)}}, {}};
}

Problem radiiDiffer(Place place, double at_start_mm, double at_end_mm) {
  return {ProblemKind::arc_radii_differ, "arc-radius", place, {fact::Length{at_start_mm}, fact::Length{at_end_mm}}, {}};
}

std::vector<std::string> rulesOf(const Report& report) {
  std::vector<std::string> ids;
  for (const Finding& f : report.findings) ids.push_back(f.program + " " + f.rule);
  return ids;
}

TEST(MakeReport, every_problem_of_the_reader_becomes_a_finding_with_its_place) {
  ReadScene s;
  s.program("a.nc", "G21\nG1 X?\n", {unreadable({2, 4, 6}, "X?")});
  const Report r = makeReport(*s.facts);
  ASSERT_EQ(r.findings.size(), 1u);
  const Finding& f = r.findings[0];
  EXPECT_EQ(f.rule, "syntax");
  EXPECT_EQ(f.level, findRule("syntax")->level);
  EXPECT_EQ(f.setup, "front");
  EXPECT_EQ(f.program, "a.nc");
  EXPECT_EQ(f.place, (ShownPlace{2, 4, 6}));
  EXPECT_EQ(f.source_line, "G1 X?");
}

TEST(MakeReport, a_problem_that_no_rule_bears_the_name_of_is_not_lost) {
  ReadScene s;
  s.program("a.nc", "G1\n", {problem("never-heard-of", {1, 1, 3})});
  const Report r = makeReport(*s.facts);
  ASSERT_EQ(r.findings.size(), 1u);
  EXPECT_EQ(r.findings[0].rule, "syntax");
  EXPECT_THAT(r.findings[0].message, HasSubstr("M30"));
}

TEST(MakeReport, columns_count_code_points) {
  ReadScene s;
  s.program("a.nc", "(\xC3\xB8\xE6\x9C\xA8\xF0\x9F\xAA\xB5) X?\n", {problem("syntax", {1, 13, 15})});
  const Report r = makeReport(*s.facts);
  EXPECT_EQ(r.findings[0].place, (ShownPlace{1, 7, 9}));  // ( o-slash tree log ) stock
}

TEST(MakeReport, a_byte_that_is_not_utf8_is_one_column) {
  ReadScene s;
  s.program("a.nc", "(d\xE9j\xE0) X?\n", {problem("syntax", {1, 8, 10})});
  const Report r = makeReport(*s.facts);
  EXPECT_EQ(r.findings[0].place, (ShownPlace{1, 8, 10}));
  EXPECT_EQ(r.findings[0].source_line, "(d\\xE9j\\xE0) X?");
}

TEST(MakeReport, the_same_thing_again_is_one_finding_that_names_each_place) {
  ReadScene s;
  s.program("a.nc", "M45\nG0\nM45\nM45\n",
            {unknownCode({1, 1, 4}, "M45"), unknownCode({3, 1, 4}, "M45"), unknownCode({4, 1, 4}, "M45")});
  const Report r = makeReport(*s.facts);
  ASSERT_EQ(r.findings.size(), 1u);
  EXPECT_EQ(r.findings[0].moves, 3u);
  EXPECT_EQ(r.findings[0].last_line, 4u);
  ASSERT_EQ(r.findings[0].related.size(), 2u);
  EXPECT_EQ(r.findings[0].related[0].place.line, 3u);
  EXPECT_EQ(r.findings[0].related[1].place.line, 4u);
}

TEST(MakeReport, the_same_trouble_by_another_amount_is_one_finding) {
  ReadScene s;
  s.program("a.nc", "G2\nG2\n", {radiiDiffer({1, 1, 3}, 57.4, 58.28), radiiDiffer({2, 1, 3}, 3, 3.5)});
  const Report r = makeReport(*s.facts);
  ASSERT_EQ(r.findings.size(), 1u);
  EXPECT_THAT(r.findings[0].message, HasSubstr("57.4 mm at its start but 58.28 mm at its end"));
  EXPECT_EQ(r.findings[0].moves, 2u);
}

// One mistake of the export on every line is one thing to put right.
TEST(MakeReport, numbers_that_cannot_be_read_are_one_finding) {
  ReadScene s;
  s.program("a.nc", "X1.2.3\nX1.2.4\n", {unreadable({1, 1, 7}, "X1.2.3"), unreadable({2, 1, 7}, "X1.2.4")});
  const Report r = makeReport(*s.facts);
  ASSERT_EQ(r.findings.size(), 1u);
  EXPECT_EQ(r.findings[0].moves, 2u);
}

TEST(MakeReport, different_things_stay_apart) {
  ReadScene s;
  s.program("a.nc", "M45\nM46\n", {unknownCode({1, 1, 4}, "M45"), unknownCode({2, 1, 4}, "M46")});
  EXPECT_EQ(makeReport(*s.facts).findings.size(), 2u);
}

// Beyond a hundred they are only counted.
TEST(MakeReport, what_was_only_counted_belongs_to_what_it_is_more_of) {
  ReadScene s;
  s.program("a.nc", "1\n2\n3\n",
            {unreadable({1, 1, 2}, "first"),
             unreadable({2, 1, 2}, "first"),
             {ProblemKind::more_of_the_same, "syntax", {3, 1, 2}, {fact::Count{354}}, {}}});
  const Report r = makeReport(*s.facts);
  ASSERT_EQ(r.findings.size(), 1u);
  EXPECT_EQ(r.findings[0].moves, 356u);
  EXPECT_EQ(r.findings[0].last_line, 3u);
}

TEST(MakeReport, worst_first_then_the_order_of_the_job_then_the_line) {
  ReadScene s;
  s.program("a.nc", "1\n2\n3\n",
            {problem("end-missing", {1, 1, 2}),
             unreadable({2, 1, 2}, "second"),
             {ProblemKind::comma_in_number, "syntax", {3, 1, 2}, {fact::Text{"third"}}, {}}});
  s.program("b.nc", "1\n2\n", {problem("parameter-unset", {1, 1, 2}), problem("syntax", {1, 1, 2})});
  ASSERT_EQ(findRule("syntax")->level, Level::stop);
  ASSERT_EQ(findRule("parameter-unset")->level, Level::look);
  ASSERT_EQ(findRule("end-missing")->level, Level::note);
  const Report r = makeReport(*s.facts);
  EXPECT_THAT(rulesOf(r),
              ElementsAre("a.nc syntax", "a.nc syntax", "b.nc syntax", "b.nc parameter-unset", "a.nc end-missing"));
  EXPECT_THAT(r.findings[0].message, HasSubstr("second"));
  EXPECT_THAT(r.findings[1].message, HasSubstr("third"));
}

TEST(Verdict, is_the_worst_level) {
  ReadScene s;
  s.program("a.nc", "1\n", {});
  EXPECT_EQ(makeReport(*s.facts).verdict, Verdict::clear);
  s.facts->programs[0].program.problems = {problem("end-missing", {1, 1, 2})};
  EXPECT_EQ(makeReport(*s.facts).verdict, Verdict::note);
  s.facts->programs[0].program.problems.push_back(problem("parameter-unset", {1, 1, 2}));
  EXPECT_EQ(makeReport(*s.facts).verdict, Verdict::look);
  s.facts->programs[0].program.problems.push_back(problem("syntax", {1, 1, 2}));
  EXPECT_EQ(makeReport(*s.facts).verdict, Verdict::stop);
}

TEST(Verdict, is_never_clear_when_a_program_was_not_read_whole) {
  ReadScene s;
  s.program("a.nc", "1\n", {});
  s.facts->programs[0].program.read_whole = false;
  Report r = makeReport(*s.facts);
  EXPECT_FALSE(r.complete);
  EXPECT_EQ(r.verdict, Verdict::look);
  EXPECT_THAT(r.not_checked, ElementsAre(HasSubstr("a.nc")));
  s.facts->programs[0].program.not_followed = {unknownCode({7, 1, 4}, "G12")};
  EXPECT_THAT(makeReport(*s.facts).not_checked, ElementsAre("a.nc:7: G12 is not a known code"));
}

TEST(Verdict, is_never_clear_when_the_simulation_left_something_out) {
  ReadScene s;
  s.program("a.nc", "1\n", {});
  s.facts->run.not_checked = {"parts: the stock is too large"};
  const Report r = makeReport(*s.facts);
  EXPECT_FALSE(r.complete);
  EXPECT_EQ(r.verdict, Verdict::look);
}

TEST(Accept, an_accepted_finding_is_still_listed_but_not_counted) {
  ReadScene s;
  s.program("a.nc", "1\n", {problem("syntax", {1, 1, 2})});
  s.accept({"syntax", "", "", "known: the machine skips it", {}, {9, 1, 5}});
  const Report r = makeReport(*s.facts);
  ASSERT_EQ(r.findings.size(), 1u);
  EXPECT_EQ(r.findings[0].accepted, "known: the machine skips it");
  EXPECT_EQ(r.verdict, Verdict::clear);
}

TEST(Accept, of_another_program_does_not_meet) {
  ReadScene s;
  s.program("a.nc", "1\n", {problem("syntax", {1, 1, 2})});
  s.program("b.nc", "1\n", {problem("syntax", {1, 1, 2})});
  s.accept({"syntax", "b.nc", "", "known", {}, {9, 1, 5}});
  const Report r = makeReport(*s.facts);
  ASSERT_EQ(r.findings.size(), 2u);
  EXPECT_FALSE(r.findings[0].accepted);
  EXPECT_TRUE(r.findings[1].accepted);
  EXPECT_EQ(r.verdict, Verdict::stop);
}

TEST(Accept, that_meets_nothing_gives_a_note_at_its_place) {
  ReadScene s;
  s.facts->job_text = "version = 1\n[[accept]]\nrule = \"bed-hit\"\n";
  s.program("a.nc", "1\n", {});
  s.accept({"bed-hit", "a.nc", "", "looked at", {}, {2, 1, 11}});
  const Report r = makeReport(*s.facts);
  ASSERT_EQ(r.findings.size(), 1u);
  const Finding& f = r.findings[0];
  EXPECT_EQ(f.rule, "accept-unused");
  EXPECT_EQ(f.level, Level::note);
  EXPECT_EQ(f.program, "job.toml");
  EXPECT_EQ(f.place.line, 2u);
  EXPECT_EQ(f.source_line, "[[accept]]");
  EXPECT_EQ(r.verdict, Verdict::note);
}

TEST(Assumed, programs_without_a_job_file_are_noted) {
  ReadScene s;
  s.facts->job.file.clear();
  s.program("a.nc", "1\n", {});
  EXPECT_THAT(rulesOf(makeReport(*s.facts)), ElementsAre(" assumed"));
}

TEST(MakeReport, nothing_of_a_program_can_reach_the_terminal_unseen) {
  ReadScene s;
  s.program("a\x1b.nc", "X?\x1b[2J\n", {unreadable({1, 1, 2}, "X?\x1b[2J")});
  s.facts->programs[0].program.not_followed = {unreadable({1, 1, 2}, "\x1b[2J")};
  const Report r = makeReport(*s.facts);
  const Finding& f = r.findings.at(0);
  for (const std::string& text : {f.program, f.message, f.source_line, r.not_checked.at(0)}) {
    EXPECT_THAT(text, HasSubstr("\\x1B"));
    EXPECT_EQ(text.find('\x1b'), std::string::npos);
  }
}

TEST(MakeReport, a_byte_order_mark_does_not_shift_the_first_line) {
  ReadScene s;
  s.program("a.nc", "\xEF\xBB\xBFG1 X?\n", {problem("syntax", {1, 4, 6})});  // the reader counts without it
  const Finding f = makeReport(*s.facts).findings.at(0);
  EXPECT_EQ(f.source_line, "G1 X?");
  EXPECT_EQ(f.mark_begin, 3u);
}

TEST(LineStarts, know_every_line_end) {
  EXPECT_THAT(lineStarts(""), IsEmpty());
  EXPECT_THAT(lineStarts("a"), ElementsAre(0u));
  EXPECT_THAT(lineStarts("a\nb\r\nc\rd"), ElementsAre(0u, 2u, 5u, 7u));
  EXPECT_THAT(lineStarts("a\n"), ElementsAre(0u));
  EXPECT_THAT(lineStarts("\n\na"), ElementsAre(0u, 1u, 2u));
}

}  // namespace
}  // namespace provecut
