// Which findings are told under a cause: those that surely are gone, and no other.
#include "report/causes/findings_gone.h"

#include <gmock/gmock.h>

#include <string>
#include <vector>

namespace provecut::causes {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

Finding finding(std::string rule, std::uint32_t line, std::string subject = {}, Level level = Level::stop) {
  Finding f;
  f.rule = std::move(rule);
  f.level = level;
  f.setup = "front";
  f.program = "a.nc";
  f.place.line = f.last_line = line;
  f.subject = std::move(subject);
  return f;
}

std::vector<std::size_t> gone(std::vector<Finding> before, std::vector<Finding> after) {
  Report was, then;
  was.findings = std::move(before);
  then.findings = std::move(after);
  return findingsGone(was, then);
}

TEST(FindingsGone, what_another_description_has_nothing_of_is_gone) {
  EXPECT_THAT(gone({finding("bed-hit", 12), finding("pass-too-deep", 14)}, {finding("floor-thin", 12)}),
              ElementsAre(0, 1));
}

TEST(FindingsGone, what_stays_on_its_line_as_a_note_has_stayed) {
  EXPECT_THAT(gone({finding("bed-hit", 12)}, {finding("bed-hit", 12, "", Level::note)}), IsEmpty());
}

TEST(FindingsGone, what_may_have_moved_to_another_line_has_stayed) {
  EXPECT_THAT(gone({finding("bed-hit", 12), finding("bed-hit", 40)}, {finding("bed-hit", 20)}), IsEmpty());
}

TEST(FindingsGone, of_two_on_lines_of_their_own_the_one_that_is_left_stays) {
  EXPECT_THAT(
      gone({finding("part-free", 12, "part 1"), finding("part-free", 40, "part 2")}, {finding("part-free", 40)}),
      ElementsAre(0));
}

TEST(FindingsGone, a_group_stays_while_any_of_its_lines_may) {
  Finding group = finding("rapid-in-stock", 12);
  group.last_line = 90;
  EXPECT_THAT(gone({group}, {finding("rapid-in-stock", 90)}), IsEmpty());
  EXPECT_THAT(gone({group, finding("rapid-in-stock", 95)}, {finding("rapid-in-stock", 90)}), ElementsAre(1));
}

TEST(FindingsGone, each_hold_down_is_a_finding_of_its_own) {
  EXPECT_THAT(gone({finding("hold-down-hit", 12, "screw SW"), finding("hold-down-hit", 12, "clamp N")},
                   {finding("hold-down-hit", 12, "clamp N")}),
              ElementsAre(0));
}

TEST(FindingsGone, another_program_or_setup_is_another_place) {
  Finding other_program = finding("bed-hit", 12), other_setup = finding("bed-hit", 12);
  other_program.program = "b.nc";
  other_setup.setup = "back";
  EXPECT_THAT(gone({finding("bed-hit", 12)}, {other_program, other_setup}), ElementsAre(0));
}

TEST(FindingsGone, what_is_accepted_or_true_under_any_description_is_no_part_of_a_cause) {
  Finding accepted = finding("bed-hit", 12);
  accepted.accepted = "a waste board";
  EXPECT_THAT(gone({accepted, finding("spindle-off", 3)}, {}), IsEmpty());
}

}  // namespace
}  // namespace provecut::causes
