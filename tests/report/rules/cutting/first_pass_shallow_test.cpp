#include <gtest/gtest.h>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

struct Compression : Scene {
  explicit Compression(double depth) {
    tool().up_cut_length_mm = 8;
    feed({20, 20, -depth});
    cuts(depth, depth);
    feed({100, 20, -depth});
    cuts(depth, depth);
  }
};

TEST(FirstPassShallow, a_first_pass_shallower_than_the_up_cut_tip_is_a_note) {
  const auto findings = Compression(4).findings(first_pass_shallow_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::note);
  EXPECT_EQ(findings[0].place.line, 2u);  // the plunge is an approach
  EXPECT_DOUBLE_EQ(*findings[0].amount, 4);
}

TEST(FirstPassShallow, no_pass_is_advised_that_is_too_deep_for_the_bit) {
  Compression s(4);
  s.feed({100, 20, -12});
  s.feed({20, 20, -12});
  EXPECT_EQ(s.findings(first_pass_shallow_rule)[0].help, "Make the first pass deeper than 8 mm.");
  s.tool().max_stepdown_mm = 6;
  EXPECT_EQ(s.findings(first_pass_shallow_rule)[0].help,
            "Not possible with this bit: its max_stepdown is 6 mm. Use a down-cut bit for this pass.");
}

TEST(FirstPassShallow, as_deep_as_the_tip_is_deep_enough) {
  EXPECT_TRUE(Compression(8).findings(first_pass_shallow_rule).empty());
  EXPECT_EQ(Compression(7.99).findings(first_pass_shallow_rule).size(), 1u);
}

TEST(FirstPassShallow, a_later_pass_below_the_top_face_and_another_bit_are_let_be) {
  Compression s(9);
  s.feed({20, 20, -12});
  s.cuts(3, 3);
  s.feed({100, 20, -12});
  s.cuts(3, 3);
  EXPECT_TRUE(s.findings(first_pass_shallow_rule).empty());
  Compression plain(4);
  plain.tool().up_cut_length_mm.reset();
  EXPECT_TRUE(plain.findings(first_pass_shallow_rule).empty());
}

TEST(FirstPassShallow, a_dado_is_no_first_pass_and_is_still_told) {
  Compression dado(6);
  dado.rapid({20, 80, 5});  // elsewhere
  dado.feed({20, 80, -12});
  dado.feed({20, -10, -12});  // an outline across the end of the dado
  const auto findings = dado.findings(first_pass_shallow_rule);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].help, "This cut is no deeper than the up-cut tip: use a down-cut bit for it.");
}

}  // namespace
}  // namespace provecut
