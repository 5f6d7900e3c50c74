// The phrases beside a place in the page's views, as an owner would say them (texts written by hand).
#include "report/formats/page/finding_marks.h"

#include <gmock/gmock.h>

#include <string>
#include <utility>
#include <vector>

#include "report/facts/load.h"
#include "report/findings/report.h"
#include "report/rules/rule.h"
#include "tests/paths.h"

namespace provecut {
namespace {

using ::testing::ElementsAre;
using ::testing::Gt;
using ::testing::HasSubstr;
using ::testing::StartsWith;
using ::testing::UnorderedElementsAre;

Finding finding(std::string rule, std::string amount_text, std::string subject = {}) {
  Finding f;
  f.rule = std::move(rule);
  f.amount_text = std::move(amount_text);
  f.subject = std::move(subject);
  return f;
}

std::string label(const Finding& f) {
  return markLabel({}, f);
}

TEST(FindingMarks, the_amount_is_told_in_the_messages_words) {
  EXPECT_EQ(label(finding("tabs-weak", "12 mm²")), "smallest tab 12 mm²");
  EXPECT_EQ(label(finding("plunge-fast", "1,495 mm/min")), "plunges at 1,495 mm/min");
  EXPECT_EQ(label(finding("spindle-range", "5,000 rpm")), "5,000 rpm out of range");
  EXPECT_EQ(label(finding("pass-too-deep", "0.343 in")), "0.343 in in one pass");
  EXPECT_EQ(label(finding("screw-near-edge", "18 mm from the end", "screw NE")), "screw NE 18 mm from the end");
}

TEST(FindingMarks, without_an_amount_in_the_message_the_label_has_none) {
  EXPECT_EQ(label(finding("low-rapid", "")), "rapid too low");
  EXPECT_EQ(label(finding("spindle-off", "")), "cuts with the spindle off");
}

TEST(FindingMarks, a_line_that_could_not_be_read_is_named) {
  Finding f = finding("syntax", "");
  f.place.line = 12;
  EXPECT_EQ(label(f), "see line 12");
}

TEST(FindingMarks, every_rule_about_moves_has_a_phrase) {
  std::vector<std::string_view> without;
  for (const Rule* rule : allRules()) {
    if (rule->check && label(finding(std::string(rule->id), "")).starts_with("see line")) without.push_back(rule->id);
  }
  // These are about the job as a whole.
  EXPECT_THAT(without, UnorderedElementsAre("assumed", "hold-down-unlisted", "may-bow", "pins-either-way",
                                            "program-changed", "program-saved-again", "sides-apart"));
}

// Clamp S and a dust shoe; the moves of the one program stand on lines 1, 2, 3 ...
struct ClampScene {
  Facts facts;
  ClampScene() {
    facts.job.hold_downs.emplace_back().name = "clamp S";
    facts.job.spindle_attachments.emplace_back().name = "dust shoe";
    facts.job.tools.emplace_back().number = 1;
    facts.job.tools.back().name = "6 mm flat";
    Program& program = facts.programs.emplace_back().program;
    for (std::uint32_t line = 1; line <= 3; ++line) {
      program.motions.emplace_back().line = line;
      program.motions.back().tool = 1;
    }
    facts.run.programs.emplace_back();
  }
  ProgramRun& run() { return facts.run.programs.front(); }
  std::string label(Finding f) const {
    f.program_order = 0;
    f.place.line = 1;
    return markLabel(facts, f);
  }
};

TEST(FindingMarks, the_part_that_passes_nearest_is_named) {
  ClampScene s;
  s.run().near_passes = {{0, 0, ToolPart::collet_nut, -1, {}, 2.5}, {0, 0, ToolPart::cutter, -1, {}, 0.02}};
  EXPECT_EQ(s.label(finding("hold-down-close", "0.02 mm", "clamp S")), "cutter only 0.02 mm from clamp S");
  s.run().near_passes.push_back({2, 0, ToolPart::attachment, 0, {}, 0.01});
  EXPECT_EQ(s.label(finding("hold-down-close", "0.01 mm", "clamp S")), "dust shoe only 0.01 mm from clamp S");
}

TEST(FindingMarks, the_part_that_hits_deepest_is_named) {
  ClampScene s;
  s.run().contacts = {{0, 0, ToolPart::cutter, -1, false, {}, 1.5}, {1, 0, ToolPart::collet_nut, -1, false, {}, 4.2}};
  EXPECT_EQ(s.label(finding("hold-down-hit", "4.2 mm", "clamp S")), "nut 4.2 mm into clamp S");
  s.run().bodies_in_stock = {
      {0, ToolPart::shank, -1, 9, {}}, {0, ToolPart::collet_nut, -1, 1, {}}, {1, ToolPart::spindle, -1, 2, {}}};
  EXPECT_EQ(s.label(finding("nut-hit", "2 mm", "6 mm flat")), "spindle 2 mm into the stock");
  EXPECT_EQ(s.label(finding("flute-too-short", "9 mm", "6 mm flat")), "flutes 9 mm too short");
}

// The rules themselves, on the sample with one mistake of each kind: what a label says of an amount stands in the
// message of its card.
TEST(FindingMarks, each_amount_of_the_trouble_sample_stands_in_its_message) {
  for (const bool inches : {false, true}) {
    LoadOptions options;
    options.show_inches = inches;
    const Loading loading = loadJobFile(PROVECUT_SOURCE_DIR "/samples/cribbage-board-trouble/job.toml", options);
    ASSERT_TRUE(loading.facts);
    int numbered = 0;
    std::vector<std::string> tabs;
    for (const Finding& f : makeReport(*loading.facts).findings) {
      const std::string text = markLabel(*loading.facts, f);
      if (f.amount_text.empty() || text.find(f.amount_text) == std::string::npos) continue;
      ++numbered;
      EXPECT_THAT(f.message, HasSubstr(f.amount_text)) << f.rule;
      if (f.rule == "tabs-weak") tabs.push_back(text);
    }
    EXPECT_THAT(numbered, Gt(15));
    // 4 mm long and 3 mm thick, as the sample's own account has it.
    EXPECT_THAT(tabs, ElementsAre(StartsWith(inches ? "smallest tab 0.0" : "smallest tab 12 mm²")));
  }
}

}  // namespace
}  // namespace provecut
