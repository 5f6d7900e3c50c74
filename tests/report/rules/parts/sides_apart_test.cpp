#include <gtest/gtest.h>

#include <vector>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

// Stock of 200 x 100 x 18 mm. From the front a rectangle from (20, 10) to (120, 70) to Z -10; from the back the same
// one as the program's author saw it after a flip left to right: from (80, 10) to (180, 70). Both sides together go
// through.
struct TwoSides : Scene {
  explicit TwoSides(Flip flip, double z = -10, Vec2 off = {}) {
    rectangle({20, 10}, {120, 70}, z);
    Setup back;
    back.name = "back";
    back.flip = flip;
    back.zero_mm = {0, 0, 18};
    back.place = {40, 1, 9};
    addProgram("20-back.nc");
    rectangle(Vec2{80, 10} + off, Vec2{180, 70} + off, z);
    job().setups.push_back(back);
  }
  std::vector<Finding> check() {
    // The scene gives every program to its one setup: the second belongs to the flipped one.
    Facts facts = this->facts();
    for (std::size_t i = 0; i < facts.programs.size(); ++i) facts.programs[i].setup = &facts.job.setups[i];
    for (std::size_t i = 0; i < facts.programs.size(); ++i) facts.programs[i].entry = &facts.job.setups[0].programs[i];
    std::vector<Finding> out;
    sides_apart_rule.check(facts, out);
    return out;
  }
  void rectangle(Vec2 a, Vec2 b, double z) {
    for (const Vec2 p : {Vec2{b.x, a.y}, b, Vec2{a.x, b.y}, a, Vec2{b.x, a.y}}) {
      feed({p.x, p.y, z});
      cuts(-z, -z);
    }
  }
};

TEST(SidesApart, the_flip_at_which_the_cuts_of_both_sides_meet_is_named) {
  const auto findings = TwoSides(Flip::front_back).check();
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].level, Level::look);
  EXPECT_EQ(findings[0].setup, "back");
  EXPECT_EQ(findings[0].place.line, 40u);
  EXPECT_NE(findings[0].message.find("flipped left to right"), std::string::npos) << findings[0].message;
  EXPECT_NE(findings[0].help.find("write `flip = \"left-right\"` in setup back"), std::string::npos);
}

// Four dowel holes from each side, 10 deep, as the author saw them after a flip left to right.
struct DowelHoles : TwoSides {
  explicit DowelHoles(Flip flip, std::size_t holes = 4) : TwoSides(flip) {
    const std::vector<Vec2> at{{20, 10}, {60, 10}, {20, 30}, {90, 40}};
    for (std::size_t i = 0; i < 2; ++i) {
      program(i).motions.clear();
      programRun(i).cuts.clear();
    }
    for (std::size_t i = 0; i < 2; ++i) {
      for (std::size_t k = 0; k < holes; ++k) drill(i, {i == 0 ? at[k].x : 200 - at[k].x, at[k].y});
    }
  }
  void drill(std::size_t i, Vec2 at) {
    Motion m = Motion{};
    m.kind = MotionKind::feed;
    m.tool = 1;
    m.start = {at.x, at.y, 2};
    m.end = {at.x, at.y, -10};
    program(i).motions.push_back(m);
    programRun(i).cuts.push_back({100, 10, 10});
  }
};

TEST(SidesApart, four_holes_that_all_meet_at_the_other_flip_tell_it_and_three_may_by_chance) {
  EXPECT_EQ(DowelHoles(Flip::front_back).check().size(), 1u);
  EXPECT_TRUE(DowelHoles(Flip::left_right).check().empty());
  EXPECT_TRUE(DowelHoles(Flip::front_back, 3).check().empty());
}

TEST(SidesApart, the_right_flip_has_nothing_to_tell) {
  EXPECT_TRUE(TwoSides(Flip::left_right).check().empty());
}

TEST(SidesApart, cuts_that_meet_neither_way_say_nothing_of_the_flip) {
  EXPECT_TRUE(TwoSides(Flip::front_back, -10, {-7, 13}).check().empty());
}

TEST(SidesApart, shallow_cuts_need_not_meet) {
  EXPECT_TRUE(TwoSides(Flip::front_back, -4.4).check().empty());  // a quarter of 18 mm is 4.5
  EXPECT_EQ(TwoSides(Flip::front_back, -4.6).check().size(), 1u);
}

TEST(SidesApart, cuts_through_from_the_back_need_not_meet_any) {
  EXPECT_TRUE(TwoSides(Flip::front_back, -18.2).check().empty());
}

}  // namespace
}  // namespace provecut
