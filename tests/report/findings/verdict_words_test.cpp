// The verdict as it is read everywhere (texts written by hand).
#include "report/findings/verdict_words.h"

#include <gmock/gmock.h>

#include <string>

namespace provecut {
namespace {

using ::testing::HasSubstr;

Report reportOf(Verdict verdict, bool complete = true) {
  Report r;
  r.verdict = verdict;
  r.complete = complete;
  return r;
}

TEST(VerdictWords, a_job_with_a_stop_is_not_to_be_run) {
  EXPECT_EQ(verdictWord(Verdict::stop), "Stop");
  EXPECT_EQ(verdictSentence(reportOf(Verdict::stop)), "Do not run this job as it is.");
}

TEST(VerdictWords, what_is_to_be_looked_at_reads_check_first) {
  EXPECT_EQ(verdictWord(Verdict::look), "Check first");
  EXPECT_EQ(levelWord(Level::look), "Check first");
  EXPECT_EQ(verdictSentence(reportOf(Verdict::look)), "Read the findings before you run this job.");
}

TEST(VerdictWords, a_check_that_left_something_out_says_so) {
  EXPECT_EQ(verdictSentence(reportOf(Verdict::look, false)),
            "Not everything could be checked. Read the findings before you run this job.");
}

TEST(VerdictWords, a_clear_job_has_no_problems_and_points_to_its_notes) {
  EXPECT_EQ(verdictWord(Verdict::clear), "Clear");
  EXPECT_EQ(verdictWord(Verdict::note), "Clear, with notes");
  EXPECT_EQ(verdictSentence(reportOf(Verdict::clear)), "No problems found.");
  EXPECT_EQ(verdictSentence(reportOf(Verdict::note)), "No problems found; see the notes.");
}

TEST(VerdictWords, levels_are_stop_check_first_and_note) {
  EXPECT_EQ(levelWord(Level::stop), "Stop");
  EXPECT_EQ(levelWord(Level::note), "Note");
}

TEST(VerdictWords, no_verdict_comes_without_its_caution) {
  EXPECT_EQ(
      no_guarantee,
      "This check is no guarantee. Do a dry run above the work first, one hand on the E-stop. Wear eye and hearing "
      "protection and a mask.");
  EXPECT_THAT(std::string(unknown_to_the_check), HasSubstr("Clear does not mean safe."));
  for (const char* what :
       {"until the spindle stands still", "dust extraction at the bit", "Never leave a running machine"})
    EXPECT_THAT(std::string(safe_running), HasSubstr(what));
}

}  // namespace
}  // namespace provecut
