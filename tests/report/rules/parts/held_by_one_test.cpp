#include <gtest/gtest.h>

#include "sim/run.h"
#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// Stock of 200 x 100 mm with screws in both halves, cut in two along X 100; then, perhaps, a pocket in the right half.
struct PartedStock : Scene {
  explicit PartedStock(std::vector<SetupPoint2> screws) {
    for (std::size_t k = 0; k < screws.size(); ++k)
      addHoldDown(screw("screw " + std::to_string(k + 1), screws[k], 8, 4));
    rapid({100, -5, 5});
    feed({100, -5, -18.2});
    feed({100, 105, -18.2});
    rapid({100, 105, 20});
  }
  void pocket(double x) {
    rapid({x, 40, 20});
    feed({x, 40, -3});
    feed({x, 60, -3});
  }
  std::vector<Finding> check() {
    Programs programs;
    programs.add(program(0));
    run() = provecut::run(job(), programs);
    return findings(held_by_one_rule);
  }
};

TEST(HeldByOne, a_half_that_one_screw_holds_and_that_is_cut_afterwards_is_told) {
  PartedStock s({{20, 20}, {20, 80}, {180, 50}});
  s.pocket(150);
  const auto findings = s.check();
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].place.line, 3u);
  EXPECT_EQ(findings[0].subject, "screw 3");
  EXPECT_NEAR(*findings[0].amount, 97 * 100, 100);
  EXPECT_EQ(findings[0].related.at(0).place.line, 6u);
}

TEST(HeldByOne, parted_last_it_is_not_told) {
  EXPECT_TRUE(PartedStock({{20, 20}, {20, 80}, {180, 50}}).check().empty());
  PartedStock s({{20, 20}, {20, 80}, {180, 50}});
  s.pocket(50);  // in the half with two screws
  EXPECT_TRUE(s.check().empty());
}

TEST(HeldByOne, with_two_screws_in_each_half_it_is_not_told) {
  PartedStock s({{20, 20}, {20, 80}, {180, 20}, {180, 80}});
  s.pocket(150);
  EXPECT_TRUE(s.check().empty());
}

TEST(HeldByOne, stock_that_was_never_parted_may_be_on_one_screw) {
  Scene s;
  s.addHoldDown(screw("screw 1", {20, 20}, 8, 4));
  s.feed({150, 40, -3});
  s.feed({150, 60, -3});
  Programs programs;
  programs.add(s.program(0));
  s.run() = run(s.job(), programs);
  EXPECT_TRUE(s.findings(held_by_one_rule).empty());
}

TEST(HeldByOne, the_half_without_any_is_a_stop_of_its_own) {
  PartedStock s({{20, 20}, {20, 80}});
  s.pocket(150);
  EXPECT_TRUE(s.check().empty());
  EXPECT_EQ(s.findings(part_free_rule).size(), 1u);
}

TEST(HeldByOne, two_halves_on_a_screw_each_are_one_accident) {
  PartedStock s({{20, 50}, {180, 50}});
  s.pocket(150);
  s.pocket(50);
  const auto findings = s.check();
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].moves, 2u);
  EXPECT_NE(findings[0].message.find("screw 1"), std::string::npos) << findings[0].message;
  EXPECT_NE(findings[0].message.find("screw 2"), std::string::npos) << findings[0].message;
}

}  // namespace
}  // namespace provecut
