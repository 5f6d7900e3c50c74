// The phrases beside a place in the page's views, as an owner would say them (texts written by hand).
#include "report/formats/page/finding_marks.h"

#include <gmock/gmock.h>

#include "report/rules/rule.h"

namespace provecut {
namespace {

using ::testing::UnorderedElementsAre;

Finding finding(std::string rule, double amount, std::string unit, std::string message, std::string subject = {}) {
  Finding f;
  f.rule = std::move(rule);
  f.amount = amount;
  f.unit = std::move(unit);
  f.message = std::move(message);
  f.subject = std::move(subject);
  return f;
}

// In a job of one program.
std::string label(Finding f, bool inches = false) {
  Facts facts;
  facts.job.inches = inches;
  facts.programs.emplace_back();
  facts.run.programs.emplace_back();
  f.program_order = 0;
  return markLabel(facts, f);
}

TEST(FindingMarks, the_number_is_the_one_of_the_message) {
  EXPECT_EQ(label(finding("nut-hit", 1.04, "mm", "the collet nut digs 1.0 mm into the stock")),
            "nut 1.0 mm into the stock");
  EXPECT_EQ(label(finding("pass-too-deep", 8.7, "mm", "takes 8.70 mm in one pass; this bit's limit is 6.35")),
            "8.70 mm in one pass");
  EXPECT_EQ(label(finding("thin-stock-lift", 60, "mm", "it cuts 60 mm from the nearest hold-down")),
            "held only 60 mm away");
}

TEST(FindingMarks, a_job_in_inches_is_labelled_in_inches) {
  EXPECT_EQ(label(finding("nut-hit", 1.0, "mm", "the collet nut digs 0.039 in into the stock"), true),
            "nut 0.039 in into the stock");
  EXPECT_EQ(label(finding("plunge-fast", 1270, "mm/min", "plunges at 50.0 in/min; this bit's limit is 20.0"), true),
            "plunges at 50.0 in/min");
}

TEST(FindingMarks, the_weakest_tab_is_labelled_with_its_wood) {
  EXPECT_EQ(label(finding("tabs-weak", 12.2, "mm²", "held only by 4 tabs; the weakest has 12 mm² (minimum 15)")),
            "weakest tab 12 mm²");
}

TEST(FindingMarks, speeds_and_feeds_keep_their_thousands) {
  EXPECT_EQ(label(finding("spindle-range", 24000, "rpm", "6 mm flat runs at 24,000 rpm; the maximum is 18,000")),
            "24,000 rpm out of range");
  EXPECT_EQ(label(finding("feed-over", 3400, "mm/min", "feed 3,400 mm/min; the machine's maximum is 3,000")),
            "feed 3,400 mm/min");
}

TEST(FindingMarks, the_end_of_a_longer_number_is_not_taken_for_it) {
  EXPECT_EQ(label(finding("plunge-fast", 400, "mm/min", "plunges at 2,400 mm/min")), "plunges too fast");
  EXPECT_EQ(label(finding("bed-hit", 3, "mm", "cuts 3.25 mm into the bed")), "into the bed");
  EXPECT_EQ(label(finding("bed-hit", 5, "mm", "cuts 0.5 mm into the bed")), "into the bed");
}

TEST(FindingMarks, less_than_nothing_is_no_distance) {
  EXPECT_EQ(label(finding("low-rapid", -1.5, "mm", "rapid clears the stock by only -1.5 mm (minimum 3.0)")),
            "rapid too low");
}

TEST(FindingMarks, a_line_that_could_not_be_read_is_named) {
  Finding f = finding("syntax", 0, "", "\"X9,0059\" is not a number");
  f.place.line = 12;
  EXPECT_EQ(label(f), "see line 12");
}

// Two moves on lines 1 and 2: on the first a cutter passes clamp S, on the second the dust shoe hits it.
struct ClampScene {
  Facts facts;
  ClampScene() {
    facts.job.hold_downs.emplace_back().name = "clamp S";
    facts.job.spindle_attachments.emplace_back().name = "dust shoe";
    Program& program = facts.programs.emplace_back().program;
    for (std::uint32_t line = 1; line <= 2; ++line) program.motions.emplace_back().line = line;
    ProgramRun& run = facts.run.programs.emplace_back();
    NearPass& pass = run.near_passes.emplace_back();
    pass.move = 0;
    pass.part = ToolPart::cutter;
    Contact& hit = run.contacts.emplace_back();
    hit.move = 1;
    hit.part = ToolPart::attachment;
    hit.attachment = 0;
  }
};

Finding onLine(std::uint32_t line, Finding f) {
  f.program_order = 0;
  f.place.line = line;
  return f;
}

TEST(FindingMarks, the_part_that_hits_and_the_clamp_are_named) {
  const ClampScene s;
  const Finding hit = onLine(2, finding("hold-down-hit", 4.2, "mm", "dust shoe runs 4.2 mm into clamp S", "clamp S"));
  EXPECT_EQ(partAtFault(s.facts, hit).part, ToolPart::attachment);
  EXPECT_EQ(markLabel(s.facts, hit), "dust shoe 4.2 mm into clamp S");
  const Finding close = onLine(1, finding("hold-down-close", 1.3, "mm", "passes 1.3 mm from clamp S", "clamp S"));
  EXPECT_EQ(partAtFault(s.facts, close).part, ToolPart::cutter);
  EXPECT_EQ(markLabel(s.facts, close), "cutter only 1.3 mm from clamp S");
}

TEST(FindingMarks, a_shank_in_the_stock_is_the_shanks_fault) {
  const ClampScene s;
  const Finding deep = onLine(1, finding("flute-too-short", 2.5, "mm", "the shank goes 2.5 mm into the stock"));
  EXPECT_EQ(partAtFault(s.facts, deep).part, ToolPart::shank);
  EXPECT_EQ(markLabel(s.facts, deep), "shank 2.5 mm into the stock");
}

TEST(FindingMarks, every_rule_about_moves_has_a_phrase) {
  std::vector<std::string_view> without;
  for (const Rule* rule : allRules()) {
    if (rule->check && label(finding(std::string(rule->id), 1, "mm", "")).starts_with("see line"))
      without.push_back(rule->id);
  }
  // These are about the job as a whole.
  EXPECT_THAT(without, UnorderedElementsAre("assumed", "hold-down-unlisted", "may-bow", "pins-either-way"));
}

}  // namespace
}  // namespace provecut
